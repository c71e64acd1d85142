"""`copperpath format`: what it writes, what it leaves alone, and how it ends."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code

STATIONS = Path(__file__).parents[3] / "docs" / "stations"
LOOSE = "load  lamp:steady {power 3W}\n"
FORM = "load lamp : steady { power 3 W }\n"
WRONG = "load lamp :: steady { power 3 W }\n"


def file_with(folder: Path, text: str | bytes, name: str = "lamp.station") -> Path:
    """A file of its own."""
    file = folder / name
    file.write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    return file


def through_a_pipe(text: bytes, *options: str) -> subprocess.CompletedProcess[bytes]:
    """The command with a text on its standard input."""
    return subprocess.run(
        [sys.executable, "-m", "copperpath.cli", "format", "-", *options],
        input=text,
        capture_output=True,
        check=False,
        timeout=60,
    )


def test_a_file_is_written_anew(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = file_with(tmp_path, LOOSE)
    assert exit_code(["format", str(file)]) == 0
    assert file.read_bytes() == FORM.encode()
    assert capsys.readouterr().out == f"{file}: formatted\n"
    assert [each.name for each in tmp_path.iterdir()] == ["lamp.station"]


def test_a_file_in_form_is_not_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = file_with(tmp_path, FORM)
    before = file.stat()
    assert exit_code(["format", str(file)]) == 0
    assert (file.stat().st_ino, file.stat().st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
    assert capsys.readouterr().out == f"{file}: unchanged\n"


@pytest.mark.parametrize(
    "data",
    [b"\xef\xbb\xbf" + FORM.encode(), FORM.replace("\n", "\r\n").encode(), FORM[:-1].encode()],
    ids=["byte-order mark", "line ends of two signs", "no line end"],
)
def test_marks_and_line_ends_become_plain(data: bytes, tmp_path: Path) -> None:
    file = file_with(tmp_path, data)
    assert exit_code(["format", "--check", str(file)]) == 1
    assert exit_code(["format", str(file)]) == 0
    assert file.read_bytes() == FORM.encode()


def test_the_mode_of_the_file_is_kept(tmp_path: Path) -> None:
    file = file_with(tmp_path, LOOSE)
    file.chmod(0o604)
    before = file.stat().st_mode
    assert exit_code(["format", str(file)]) == 0
    assert file.stat().st_mode == before


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    file = file_with(tmp_path, LOOSE)
    link = tmp_path / "link.station"
    link.symlink_to(file)
    assert exit_code(["format", str(link)]) == 0
    assert link.is_symlink()
    assert file.read_text() == FORM


def test_a_write_that_fails_leaves_the_file_and_nothing_beside_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = file_with(tmp_path, LOOSE)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    assert exit_code(["format", str(file)]) == 2
    assert file.read_text() == LOOSE
    assert "cannot be written: No space left on device" in capsys.readouterr().err
    assert [each.name for each in tmp_path.iterdir()] == ["lamp.station"]


def test_a_file_with_mistakes_is_shown_and_left_while_the_others_are_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = file_with(tmp_path, WRONG, "wrong.station")
    good = file_with(tmp_path, LOOSE)
    assert exit_code(["format", str(wrong), str(good)]) == 2
    assert wrong.read_text() == WRONG
    assert good.read_text() == FORM
    out, err = capsys.readouterr()
    assert out == f"{good}: formatted\n"
    assert "line 1, column 12" in err
    assert err.endswith(f"{wrong}: 1 mistake; left as it is\n")


def test_bytes_that_are_no_text_are_a_mistake(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = file_with(tmp_path, b'load lamp : steady { note "\xff" }\n')
    assert exit_code(["format", str(file)]) == 2
    assert "this file is not UTF-8 text" in capsys.readouterr().err


def test_check_names_the_files_that_would_change_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    loose = file_with(tmp_path, LOOSE)
    form = file_with(tmp_path, FORM, "form.station")
    assert exit_code(["format", "--check", str(form), str(loose)]) == 1
    assert loose.read_text() == LOOSE
    assert capsys.readouterr().out == f"{loose}: would change\n"
    assert exit_code(["format", "--check", str(form)]) == 0


def test_a_mistake_weighs_more_than_a_change(tmp_path: Path) -> None:
    files = [file_with(tmp_path, WRONG, "wrong.station"), file_with(tmp_path, LOOSE)]
    assert exit_code(["format", "--check", *map(str, files)]) == 2


def test_the_examples_are_in_form(capsys: pytest.CaptureFixture[str]) -> None:
    files = sorted(str(file) for file in STATIONS.rglob("*.station"))
    assert len(files) >= 6
    assert exit_code(["format", "--check", *files]) == 0


def test_diff_prints_the_change_and_writes_nothing(tmp_path: Path) -> None:
    file = file_with(tmp_path, LOOSE)
    done = subprocess.run(
        [sys.executable, "-m", "copperpath.cli", "format", "--diff", str(file)],
        capture_output=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0
    assert done.stdout.decode().splitlines() == [
        f"--- {file}",
        f"+++ {file} (formatted)",
        "@@ -1 +1 @@",
        f"-{LOOSE.rstrip()}",
        f"+{FORM.rstrip()}",
    ]
    assert file.read_text() == LOOSE


def test_standard_input_goes_to_standard_output_as_utf_8() -> None:
    done = through_a_pipe("cable a->b {wire 4mm²} # Ærø\r\n".encode())
    assert done.returncode == 0
    assert done.stdout == "cable a -> b { wire 4 mm² }  # Ærø\n".encode()
    assert through_a_pipe(FORM.encode(), "--check").returncode == 0
    assert through_a_pipe(LOOSE.encode(), "--check").returncode == 1


def test_standard_input_with_mistakes_prints_nothing_but_the_mistakes() -> None:
    done = through_a_pipe(WRONG.encode())
    assert done.returncode == 2
    assert done.stdout == b""
    assert b"<standard input>, line 1, column 12" in done.stderr


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Missing argument 'FILE...'"),
        (["-", "other.station"], "`-` stands alone"),
        (["missing.station"], "missing.station does not exist"),
        (["."], "is a folder; name a file in it"),
    ],
)
def test_a_wrong_call_is_told_in_words(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["format", *arguments]) == 2
    assert words in capsys.readouterr().err


def test_formatting_loads_neither_the_models_nor_the_solver(tmp_path: Path) -> None:
    file = file_with(tmp_path, LOOSE)
    code = (
        "import sys\n"
        "from copperpath.cli.main import exit_code\n"
        f"assert exit_code(['format', {str(file)!r}]) == 0\n"
        "heavy = ('numpy', 'pandas', 'numba', 'pint', 'networkx', 'pygments', 'rich')\n"
        "print(*[name for name in heavy if name in sys.modules])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == ""
