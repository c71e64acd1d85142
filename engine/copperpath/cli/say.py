"""Where the command's words go: standard output, in signs that the terminal can show."""

from __future__ import annotations

import sys
from typing import TextIO

from copperpath.report.layout import ascii_only


class ReaderGone(Exception):
    """Whoever read our output has closed it, as `| head` does."""


def say(text: str, *, error: bool = False) -> None:
    """Write a text as it is, or in plain ASCII where the stream cannot show the rest.

    Raises
    ------
    ReaderGone
        If nobody reads any more.
    """
    stream = sys.stderr if error else sys.stdout
    try:
        stream.write(fitted(text, stream))
        stream.flush()
    except BrokenPipeError as problem:
        raise ReaderGone from problem


def fitted(text: str, stream: TextIO) -> str:
    """The text in signs that the stream can take."""
    encoding = (stream.encoding or "ascii").lower().replace("-", "").replace("_", "")
    if encoding in ("utf8", "utf8sig"):
        # Half a surrogate pair can come out of a file name; it cannot be written as UTF-8.
        return text.encode("utf-8", "replace").decode("utf-8")
    return "\n".join(ascii_only(line) for line in text.split("\n"))
