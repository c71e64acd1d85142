"""A picture as a file: may it be written there, and writing it so that it is the same each time."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.figure import Figure

SUFFIXES = (".svg", ".png", ".pdf")
DOTS_PER_INCH = 120

METADATA: dict[str, dict[str, Any]] = {
    ".svg": {"Date": None, "Creator": "copperpath"},
    ".png": {"Software": "copperpath"},
    ".pdf": {"CreationDate": None, "Creator": "copperpath", "Producer": "copperpath"},
}
"""No date in it: the same run makes the same file."""


class PictureProblem(Exception):
    """Why a picture cannot be written there, in words for the person who asked."""


def check_picture_path(path: Path) -> None:
    """Find out before a long run whether its picture could be written.

    Raises
    ------
    PictureProblem
        If the ending is unknown, or the folder is missing or closed.
    """
    if path.suffix.lower() not in SUFFIXES:
        ending = f"`{path.suffix}`" if path.suffix else "no ending"
        raise PictureProblem(
            f"{path} has {ending}; a picture is written as .svg, .png or .pdf, such as run.svg"
        )
    try:
        _check_place(path)
    except OSError as problem:
        # A name that is too long, or a place that cannot even be looked at.
        raise PictureProblem(f"{path} cannot be written: {problem.strerror}") from problem


def _check_place(path: Path) -> None:
    if path.is_dir():
        raise PictureProblem(f"{path} is a folder; name a file in it")
    if not path.parent.is_dir():
        raise PictureProblem(f"the folder {path.parent} does not exist; make it first")
    if not os.access(path if path.exists() else path.parent, os.W_OK):
        raise PictureProblem(f"{path} cannot be written: permission denied")


def write_picture(
    figure: Figure,
    path: Path,
    *,
    dpi: float = DOTS_PER_INCH,
    title: str = "",
    settings: Any = None,
) -> None:
    """Write a figure; the file appears whole or not at all. `settings` of matplotlib go on top of
    those that all pictures have.

    Raises
    ------
    PictureProblem
        If it cannot be written.
    """
    import matplotlib

    from copperpath.drawing.look import settled

    check_picture_path(path)
    ending = path.suffix.lower()
    metadata = METADATA[ending] | ({"Title": title} if title else {})
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with settled():
            matplotlib.rcParams.update(settings or {})
            figure.savefig(beside, format=ending[1:], dpi=dpi, metadata=metadata)
        beside.replace(path)
    except OSError as problem:
        raise PictureProblem(f"{path} cannot be written: {problem.strerror}") from problem
    finally:
        beside.unlink(missing_ok=True)
