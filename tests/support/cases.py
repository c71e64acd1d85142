"""Case files: a small text `name.in` with the exact expected output `name.out` beside it.

To write or renew the outputs, run the tests with COPPERPATH_UPDATE_CASES=1 in the environment,
then read every changed file: these are the messages that people will see.
"""

from __future__ import annotations

import difflib
import os
import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

UPDATE = "COPPERPATH_UPDATE_CASES"
_PLACES: list[TemporaryDirectory[str]] = []  # removed when the tests end


def cases_in(folder: Path) -> list[Path]:
    """The case texts of a folder, sorted by name; an empty folder is a mistake."""
    found = sorted(folder.glob("*.in"))
    assert found, f"no cases (*.in) in {folder}"
    return found


@cache
def files_beside(folder: Path) -> Path:
    """A folder with what the texts of a folder of cases name: its tables, and its shared files
    `shared/NAME.included`, there called `shared/NAME.station`. Among these are files that are no
    text, which no other test should take for station files."""
    place = TemporaryDirectory()
    _PLACES.append(place)
    home = Path(place.name)
    for table in folder.glob("*.csv"):
        shutil.copy(table, home)
    (home / "shared").mkdir()
    for file in (folder / "shared").glob("*.included"):
        shutil.copy(file, home / "shared" / f"{file.stem}.station")
    return home


def case_name(case: Path) -> str:
    """The name of a case, for the ids of parametrized tests."""
    return case.stem


def read_case(case: Path) -> str:
    """The text of a case, its line breaks as they are in the file."""
    return case.read_bytes().decode("utf-8")


def check_case(case: Path, answer: Callable[[str, str], str]) -> None:
    """Compare what a text gives with the output beside it.

    Parameters
    ----------
    case : Path
        The `.in` file.
    answer : callable
        Takes the text and the name to show for it (`unclosed_brace.station`), returns the output.
    """
    got = answer(read_case(case), f"{case.stem}.station").rstrip() + "\n"
    beside = case.with_suffix(".out")
    if os.environ.get(UPDATE) == "1":
        beside.write_text(got, encoding="utf-8")
        return
    assert beside.exists(), f"{beside.name} is missing; run once with {UPDATE}=1 and read it"
    wanted = beside.read_text(encoding="utf-8")
    if got != wanted:
        raise AssertionError(_difference(case, wanted, got))


def stray_outputs(folder: Path) -> list[str]:
    """Names of outputs without a text beside them."""
    return [out.name for out in sorted(folder.glob("*.out")) if not out.with_suffix(".in").exists()]


def _difference(case: Path, wanted: str, got: str) -> str:
    lines = difflib.unified_diff(
        wanted.splitlines(), got.splitlines(), "expected", "got now", lineterm="", n=20
    )
    return "\n".join(
        [
            f"{case.name} does not give what {case.with_suffix('.out').name} says:",
            "",
            *(f"    {line}" for line in lines),
            "",
            f"If the new output is better, run again with {UPDATE}=1.",
        ]
    )
