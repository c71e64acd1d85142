"""Which files may be included: those in the main file's folder and below, and nothing else."""

from __future__ import annotations

import os
from pathlib import Path, PurePosixPath, PureWindowsPath

from copperpath.build.wording import nearest
from copperpath_grammar import read_file

ENDING = ".station"
INSIDE = 'name a file in the station file\'s own folder or below, such as "parts/radios.station"'


class IncludeTrouble(Exception):
    """Why a file cannot be included, and what to do about it."""

    def __init__(self, reason: str, advice: str = INSIDE) -> None:
        super().__init__(reason)
        self.reason = reason
        self.advice = advice


def safe_path(written: str, beside: Path, home: Path) -> Path:
    """The place of a file, certain to lie in the main file's folder, links followed.

    Parameters
    ----------
    written : str
        As the `include` line has it.
    beside : Path
        Folder of the file that has the line.
    home : Path
        Folder of the main file, links followed.

    Raises
    ------
    IncludeTrouble
        If the file may not be named or is not there.
    """
    pure = PurePosixPath(written)
    if "\\" in written:
        raise IncludeTrouble("a backslash stands in it", "write paths with `/`")
    absolute = pure.is_absolute() or PureWindowsPath(written).drive or written.startswith("~")
    if not written.strip() or absolute or ".." in pure.parts or not written.isprintable():
        raise IncludeTrouble("only files inside the station file's folder may be included")
    if pure.suffix != ENDING:
        raise IncludeTrouble(f"its name does not end in `{ENDING}`")
    try:
        path = (beside / pure).resolve(strict=True)
    except FileNotFoundError:
        raise IncludeTrouble(f"there is no such file{_near_file(beside, pure, home)}") from None
    except (OSError, RuntimeError, ValueError):
        raise IncludeTrouble("it cannot be opened") from None
    if not path.is_relative_to(home):
        raise IncludeTrouble("it is a link to a place outside the station file's folder")
    if not path.is_file():
        raise IncludeTrouble("it is not a plain file")
    return path


def read_text(path: Path, name: str) -> str:
    """The text of a file, never more of it than a station file may have.

    Raises
    ------
    IncludeTrouble
        If it cannot be read, is too long, or is no UTF-8 text.
    """
    try:
        text, problems = read_file(path, name)
    except OSError as error:
        reason = os.strerror(error.errno) if error.errno else "unknown reason"
        raise IncludeTrouble(f"it cannot be read ({reason})", "look at its rights") from None
    for problem in problems:
        line = f" (line {problem.span.line})" if problem.span.start else ""
        raise IncludeTrouble(f"{problem.message}{line}", problem.help)
    return text


def _near_file(beside: Path, pure: PurePosixPath, home: Path) -> str:
    """A file of nearly that name in the folder named, if that lies in the main file's."""
    try:
        folder = (beside / pure).parent.resolve()
        if not folder.is_relative_to(home):
            return ""
        names = sorted(each.name for each in folder.iterdir() if each.suffix == ENDING)
    except OSError:
        return ""
    near = nearest(pure.name, names)
    return f" (did you mean `{near}`?)" if near else ""
