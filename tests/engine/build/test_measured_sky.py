"""Measured light from a CSV beside the station file."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.building import SMALL, build_text, station_of

from copperpath.station import MeasuredSky

PLANE = "time, plane [W/m2]\n"
ROWS = "2026-06-19T08:00+03:00, 0\n2026-06-19T09:00+03:00, 420.5\n2026-06-19T10:00Z, 600\n"


def text_with(name: str) -> str:
    """The small station under a measured sky."""
    return SMALL.replace("sky clear", f'sky "{name}"')


def sky_of(folder: Path, content: str, name: str = "sun.csv") -> MeasuredSky:
    """The sky that a file's content gives."""
    (folder / name).write_text(content, encoding="utf-8")
    sky = station_of(text_with(name), folder).site.sky
    assert isinstance(sky, MeasuredSky)
    return sky


def complaint(folder: Path | None, name: str) -> str:
    """The one message about a file."""
    (problem,) = build_text(text_with(name), folder).diagnostics
    assert problem.code == "build/sky-file"
    return problem.message


def test_light_in_the_plane_is_read_with_its_times(tmp_path: Path) -> None:
    sky = sky_of(tmp_path, PLANE + ROWS)
    assert sky.kind == "plane"
    np.testing.assert_allclose(sky.columns["plane"], [0.0, 420.5, 600.0])
    np.testing.assert_allclose(np.diff(sky.time_s), [3600.0, 4.0 * 3600.0])
    assert sky.time_s[0] == 1781845200.0  # 2026-06-19 05:00 UTC
    assert not sky.columns["plane"].flags.writeable


def test_light_on_the_level_may_have_beam_and_diffuse(tmp_path: Path) -> None:
    header = "time,global [W/m²],beam [W/m²],diffuse [W/m²]\n"
    rows = "2026-06-19 08:00+03:00,300,500,80\n2026-06-19 09:00+03:00,400,600,90\n"
    sky = sky_of(tmp_path, "\ufeff" + header + rows)
    assert sky.kind == "horizontal"
    assert sorted(sky.columns) == ["beam", "diffuse", "global"]


def test_empty_lines_and_quotes_do_no_harm(tmp_path: Path) -> None:
    sky = sky_of(tmp_path, '\n"time","plane [W/m2]"\r\n\r\n' + ROWS.replace("\n", "\r\n"))
    assert len(sky.time_s) == 3


def test_a_file_in_a_folder_below_may_be_named(tmp_path: Path) -> None:
    (tmp_path / "sun").mkdir()
    assert sky_of(tmp_path, PLANE + ROWS, "sun/march.csv").path == "sun/march.csv"


@pytest.mark.parametrize(
    "name", ["../sun.csv", "/etc/passwd", "a/../../sun.csv", "C:/sun.csv", "..", "~/sun.csv", ""]
)
def test_no_file_outside_the_folder_can_be_named(tmp_path: Path, name: str) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "sun.csv").write_text(PLANE + ROWS)
    assert "folder may be named" in complaint(inside, name)


def test_a_link_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "sun.csv").write_text(PLANE + ROWS)
    (inside / "sun.csv").symlink_to(tmp_path / "sun.csv")
    assert "a link to a place outside" in complaint(inside, "sun.csv")


def test_a_folder_is_not_a_file(tmp_path: Path) -> None:
    (tmp_path / "sun.csv").mkdir()
    assert "not a plain file" in complaint(tmp_path, "sun.csv")


def test_a_station_from_no_file_cannot_name_one() -> None:
    assert "did not come from a file" in complaint(None, "sun.csv")


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("", "it is empty"),
        ("time; plane [W/m2]\n", "not separated by commas"),
        ("time, plane\n" + ROWS, "its first row is"),
        ("time, global [W/m2], beam [W/m2]\n", "its first row is"),
        (PLANE, "at least two rows"),
        (PLANE + "2026-06-19T08:00, 0\n" + ROWS, "row 2: `2026-06-19T08:00` has no offset"),
        (PLANE + ROWS + "2026-06-19T09:00+03:00, 5\n", "is not later than the row before"),
        (PLANE + ROWS + "tomorrow, 5\n", "`tomorrow` is not a time"),
        (PLANE + ROWS + "2026-06-20T09:00+03:00, nan\n", "`nan` in column"),
        (PLANE + ROWS + "2026-06-20T09:00+03:00, 1_0\n", "`1_0` in column"),
        (PLANE + ROWS + "2026-06-20T09:00+03:00, -1\n", "not between 0 and 2000"),
        (PLANE + ROWS + "2026-06-20T09:00+03:00\n", "1 columns instead of 2"),
        (PLANE + ROWS + "x, 1\n" * 9, "and 6 more"),
    ],
)
def test_what_is_wrong_with_a_file_is_told(tmp_path: Path, content: str, words: str) -> None:
    (tmp_path / "sun.csv").write_text(content)
    assert words in complaint(tmp_path, "sun.csv")


@pytest.mark.parametrize("content", [b"\xff\xfe\x00t", b"time\x00, plane", b"\x80" * 9])
def test_what_is_no_text_is_told(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "sun.csv").write_bytes(content)
    assert "not plain text" in complaint(tmp_path, "sun.csv")
