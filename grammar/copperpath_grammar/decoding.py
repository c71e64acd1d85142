"""From a file to text, with a clear word about files that are too long or no UTF-8 text."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.source import Source, Span


@dataclass(frozen=True, slots=True)
class NotUtf8(Diagnostic):
    """Text in another encoding, or no text; `reason` says what shows it."""

    reason: str
    code = "syntax/not-utf8"

    @property
    def message(self) -> str:
        return f"this file is not UTF-8 text: {self.reason}"

    @property
    def help(self) -> str:
        return "open it in your editor and save it again with the encoding UTF-8"


@dataclass(frozen=True, slots=True)
class NotText(Diagnostic):
    """Bytes that no text has."""

    code = "syntax/not-text"

    @property
    def message(self) -> str:
        return "this file is no text: it holds bytes of value zero"

    @property
    def help(self) -> str:
        return "check that this is a station file; it may be damaged or of another kind"


LONGEST_TEXT = 400_000
"""Characters of a station: some two thousand devices with their cables."""


@dataclass(frozen=True, slots=True)
class FileTooLong(Diagnostic):
    """More text than any station needs. `length` is 0 where nobody counted to the end."""

    length: int
    longest: int
    what: str = "characters"
    code = "syntax/file-too-long"

    @property
    def message(self) -> str:
        if not self.length:
            return f"this file has more than {self.longest:,} {self.what}".replace(",", " ")
        return (
            f"this file has {self.length:,} {self.what}; at most {self.longest:,} are read".replace(
                ",", " "
            )
        )

    @property
    def help(self) -> str:
        return "a station file is a short text; check that this is the file you meant"


def read_file(path: Path, name: str) -> tuple[str, tuple[Diagnostic, ...]]:
    """The text of a file, as `decode` gives it; of a huge one no more than the start is read.

    Raises
    ------
    OSError
        If it cannot be read.
    """
    most = 4 * LONGEST_TEXT  # no letter takes more bytes than four
    with path.open("rb") as file:
        data = file.read(most + 1)
    if len(data) > most:
        return _failed(FileTooLong(_start(name), 0, LONGEST_TEXT))
    return decode(data, name)


_MARKS = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)


def decode(data: bytes, name: str = "<text>") -> tuple[str, tuple[Diagnostic, ...]]:
    """Read the bytes of a file as text.

    Returns
    -------
    tuple of str and tuple of Diagnostic
        The text without a byte-order mark, and no diagnostics; or an empty text and the
        diagnostic that says why it cannot be read. The place shown is the first wrong byte.
    """
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _failed(NotUtf8(_start(name), f"it is written in {encoding}"))
    if b"\x00" in data:
        return _failed(NotText(_place(data, data.index(0), name)))
    try:
        return data.decode("utf-8-sig"), ()
    except UnicodeDecodeError as error:
        # The offset counts from behind a byte-order mark, which is three bytes.
        offset = error.start + (3 if data.startswith(b"\xef\xbb\xbf") else 0)
        reason = f"the byte {data[offset]:02X} (hexadecimal) has no meaning there"
        return _failed(NotUtf8(_place(data, offset, name), reason))


def _failed(diagnostic: Diagnostic) -> tuple[str, tuple[Diagnostic, ...]]:
    return "", (diagnostic,)


def _start(name: str) -> Span:
    return Span(Source(name, ""), 0, 0)


def _place(data: bytes, offset: int, name: str) -> Span:
    """The place of a byte, in the text as far as it can be guessed."""
    text = data.decode("utf-8", errors="replace").removeprefix("\ufeff")
    start = len(data[:offset].decode("utf-8", errors="replace").removeprefix("\ufeff"))
    return Span(Source(name, text), start, start + 1)
