"""Where a picture may be written."""

from __future__ import annotations

from pathlib import Path

import pytest

from copperpath.drawing.page import PictureProblem, check_picture_path


@pytest.mark.parametrize("name", ["run.svg", "run.PNG", "run.pdf"])
def test_three_endings_are_known(name: str, tmp_path: Path) -> None:
    check_picture_path(tmp_path / name)


def test_another_ending_is_refused_with_those_that_are_known(tmp_path: Path) -> None:
    with pytest.raises(PictureProblem, match=r"has `\.gif`; .*\.svg, \.png or \.pdf"):
        check_picture_path(tmp_path / "run.gif")


def test_no_ending_is_called_so(tmp_path: Path) -> None:
    with pytest.raises(PictureProblem, match="has no ending"):
        check_picture_path(tmp_path / "run")


def test_a_folder_that_is_missing_is_named(tmp_path: Path) -> None:
    with pytest.raises(PictureProblem, match="gone does not exist; make it first"):
        check_picture_path(tmp_path / "gone" / "run.svg")


def test_a_name_that_the_disk_does_not_take_is_refused(tmp_path: Path) -> None:
    with pytest.raises(PictureProblem, match="cannot be written: File name too long"):
        check_picture_path(tmp_path / ("a" * 300 + ".svg"))


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "run.svg").write_text("")
    with pytest.raises(PictureProblem, match=r"run\.svg does not exist; make it first"):
        check_picture_path(tmp_path / "run.svg" / "run.svg")


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "run.svg").mkdir()
    with pytest.raises(PictureProblem, match="is a folder"):
        check_picture_path(tmp_path / "run.svg")
