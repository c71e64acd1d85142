"""Files that lie beside a station file: found safely inside its folder, and read as text."""

from __future__ import annotations

from pathlib import Path, PurePosixPath

from copperpath.build.wording import nearest

LARGEST_FILE = 50_000_000
ENDINGS = (".csv", ".epw")


class FileTrouble(Exception):
    """Why a file cannot be used, with what to do about it."""

    def __init__(self, reason: str, advice: str = "") -> None:
        super().__init__(reason)
        self.reason = reason
        self.advice = advice


def safe_path(written: str, folder: Path | None) -> Path:
    """The file's path, certain to lie inside the folder of the station file (None: there is no
    folder, as the station did not come from a file).

    Raises
    ------
    FileTrouble
        If there is no such file there.
    """
    if folder is None:
        raise FileTrouble(
            "this station did not come from a file, so there is no folder to look in",
            "save the station to a file beside it",
        )
    inside = 'name a file in the station file\'s own folder, such as `sky "sun.csv"`'
    pure = PurePosixPath(written)
    odd = "\\" in written or ":" in written or "\0" in written or written.startswith("~")
    if not written.strip() or odd or pure.is_absolute() or ".." in pure.parts:
        raise FileTrouble("only a file inside the station file's folder may be named", inside)
    try:
        home = folder.resolve(strict=True)
        path = (home / pure).resolve(strict=True)
    except FileNotFoundError:
        raise FileTrouble(f"there is no such file{_near_file(folder, written)}", inside) from None
    except (OSError, RuntimeError, ValueError):
        raise FileTrouble("it cannot be opened", inside) from None
    if not path.is_relative_to(home):
        raise FileTrouble("it is a link to a place outside the station file's folder", inside)
    if not path.is_file():
        raise FileTrouble("it is not a plain file", inside)
    return path


def _near_file(folder: Path, written: str) -> str:
    try:
        names = [each.name for each in folder.iterdir() if each.suffix.lower() in ENDINGS]
    except OSError:
        return ""
    near = nearest(written, sorted(names))
    return f" (did you mean `{near}`?)" if near else ""


def read_text(path: Path) -> str:
    """The text of a file beside the station.

    Raises
    ------
    FileTrouble
        If it is none, or too large.
    """
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise FileTrouble(
                f"it is larger than {LARGEST_FILE // 1_000_000} MB", "cut it to the run"
            )
        content = path.read_bytes()
        # Names of places in old weather files are not UTF-8, and nothing hangs on them.
        return content.decode("latin-1" if path.suffix.lower() == ".epw" else "utf-8-sig")
    except UnicodeDecodeError:
        raise FileTrouble("it is not plain text", "save it as CSV in UTF-8") from None
    except OSError as error:
        raise FileTrouble(f"it cannot be read ({error.strerror})") from None
