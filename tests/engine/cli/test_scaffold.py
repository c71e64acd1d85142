"""`copperpath scaffold`: the package it writes can be installed, is found, and passes its test."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code


def run(*arguments: str, path: Path) -> subprocess.CompletedProcess[str]:
    """A Python of its own that sees what is installed under `path`."""
    return subprocess.run(
        [sys.executable, *arguments],
        env={**os.environ, "PYTHONPATH": str(path)},
        cwd=path,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_the_package_is_installed_found_and_passes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, place = tmp_path / "new", tmp_path / "installed"
    place.mkdir()
    assert exit_code(["scaffold", str(folder), "--name", "bog_lamp"]) == 0
    assert "copperpath conform bog_lamp" in capsys.readouterr().out
    pip = ("-m", "pip", "install", "--quiet", "--no-deps", "--no-build-isolation", "--no-index")
    done = run(*pip, "--target", str(place), str(folder), path=place)
    assert done.returncode == 0, done.stderr
    done = run("-m", "copperpath.cli", "conform", "bog_lamp", "--draws", "5", path=place)
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.startswith("bog_lamp (load) conforms")
    done = run("-m", "pytest", "-q", "-p", "no:cacheprovider", str(folder / "tests"), path=place)
    assert done.returncode == 0, done.stdout
    assert "1 passed" in done.stdout


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("Bog Lamp", "is no name for a model"),
        ("lambda", "is no name for a model"),
        ("lfp", "a model `lfp` is installed already"),
    ],
)
def test_a_name_that_cannot_be_used_is_refused(
    name: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "new"
    assert exit_code(["scaffold", str(folder), "--name", name]) == 2
    assert words in capsys.readouterr().err
    assert not folder.exists()


def test_a_folder_with_something_in_it_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    assert exit_code(["scaffold", str(tmp_path), "--name", "bog_lamp"]) == 2
    assert "is not empty; name a folder that is new" in capsys.readouterr().err
    assert [file.name for file in tmp_path.iterdir()] == ["mine.txt"]


def test_a_file_is_no_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "mine.txt"
    file.write_text("mine")
    assert exit_code(["scaffold", str(file), "--name", "bog_lamp"]) == 2
    assert "is a file; name a folder" in capsys.readouterr().err


def test_a_model_may_have_the_name_of_something_it_imports(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    assert exit_code(["scaffold", str(folder), "--name", "window"]) == 0
    file = folder / "copperpath_window" / "model.py"
    assert exit_code(["conform", "window", "--plugin", str(file), "--draws", "3"]) == 0


def test_what_is_written_follows_the_style_of_this_project(tmp_path: Path) -> None:
    folder = tmp_path / "new"
    assert exit_code(["scaffold", str(folder), "--name", "bog_lamp"]) == 0
    for file in folder.rglob("*.py"):
        assert max(len(line) for line in file.read_text().splitlines()) <= 100
