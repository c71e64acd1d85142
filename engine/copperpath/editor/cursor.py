"""Where the cursor stands, told from the words before it: nothing behind it need be in order."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field

from lark import Token

from copperpath.editor.outline import case_owner, title_of
from copperpath.editor.reading import Reading
from copperpath_grammar.pieces import BEGINNINGS, GAPS, INSIDE

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?\s*")


@dataclass(slots=True)
class Frame:
    """A body that is open at the cursor: the statement it belongs to, and the entries in it."""

    header: tuple[Token, ...]
    lines: list[tuple[Token, ...]] = field(default_factory=list)

    @property
    def word(self) -> str:
        """How the statement begins."""
        return str(self.header[0]) if self.header else ""

    @property
    def owner(self) -> str:
        """The name of an assembly, or what stands for a case (see `case_owner`)."""
        if len(self.header) < 2:
            return ""
        second = self.header[1]
        return case_owner(title_of(second)) if self.word == "case" else str(second)


@dataclass(frozen=True, slots=True)
class Cursor:
    """What the cursor stands in.

    Attributes
    ----------
    frames : sequence of Frame
        The open bodies, the outermost first.
    line : sequence of Token
        The words of this statement or entry before the one that is being typed.
    word : str
        What is typed of the word so far.
    start : int
        Where that word begins.
    unit : bool
        True right behind a number: the word is, or may be, its unit.
    quoted : bool
        True inside a text in quotes; the word is then all of it so far.
    silent : bool
        True in a remark, or behind a finished text.
    """

    frames: tuple[Frame, ...]
    line: tuple[Token, ...]
    word: str
    start: int
    unit: bool = False
    quoted: bool = False
    silent: bool = False

    @property
    def frame(self) -> Frame | None:
        """The innermost open body."""
        return self.frames[-1] if self.frames else None

    @property
    def owner(self) -> str:
        """The assembly or case around, or ""."""
        around = [frame for frame in self.frames if frame.word in ("assembly", "case")]
        return around[-1].owner if around else ""


def cursor_at(reading: Reading, offset: int) -> Cursor:
    """Where the cursor at this offset stands."""
    tokens, text = reading.tokens, reading.source.text
    count = bisect_left(tokens, offset, key=lambda token: token.start_pos or 0)
    last = tokens[count - 1] if count else None
    end = (last.end_pos or 0) if last is not None else 0
    if "#" in text[end:offset].rpartition("\n")[2]:
        return Cursor((), (), "", offset, silent=True)
    before = count
    word, start, unit, quoted, silent = "", offset, False, False, False
    if last is not None and offset <= end:
        begin = last.start_pos or 0
        if last.type in ("MEASURE", "GAUGE"):
            number = _NUMBER.match(text, begin)
            start = min(number.end() if number else begin, offset)
            word, unit = text[start:offset], True
        elif last.type in ("TEXT", "OPEN_TEXT"):
            start = begin + 1
            word, quoted = text[start:offset], True
            silent = last.type == "TEXT" and offset == end
            before -= 1
        elif last[:1].isidentifier() or _is_way(tokens, count - 1):
            word, start = text[begin:offset], begin
            before -= 1
    if not word and before and tokens[before - 1].type == "NUMBER":
        unit = not _is_way(tokens, before - 1) and "\n" not in text[end:offset]
    frames, line = _frames(tokens, before)
    _entries_behind(tokens, before if before == count else count, frames)
    return Cursor(tuple(frames), tuple(line), word, start, unit, quoted, silent)


def token_at(reading: Reading, offset: int) -> Token | None:
    """The word that covers an offset, or ends there."""
    tokens = reading.tokens
    count = bisect_right(tokens, offset, key=lambda token: token.start_pos or 0)
    for token in tokens[max(0, count - 1) : max(0, count - 3) or None : -1] if count else ():
        if offset <= (token.end_pos or 0) and not token.isspace():
            return token
    return None


def _is_way(tokens: Sequence[Token], index: int) -> bool:
    """Whether a number stands behind a dot: `strip.1`."""
    number = tokens[index].type == "NUMBER"
    return number and index > 0 and tokens[index - 1].type == "DOT"


def _frames(tokens: Sequence[Token], count: int) -> tuple[list[Frame], list[Token]]:
    """The bodies that are open behind so many words, and the words of the last line."""
    frames: list[Frame] = []
    line: list[Token] = []
    waiting: list[Token] = []  # a header whose brace may follow on the next line
    for token in tokens[:count]:
        if token.type in GAPS:
            if line:
                _keep(frames, line)
                waiting, line = line, []
        elif token.type == "LBRACE":
            header = tuple(line or waiting)
            _forget(frames, waiting if not line else [])
            frames.append(Frame(header))
            line, waiting = [], []
        elif token.type == "RBRACE":
            _keep(frames, line)
            if frames:
                frames.pop()
            line, waiting = [], []
        else:
            if not line:
                _leave_unclosed(frames, token)
            line.append(token)
    return frames, line


def _keep(frames: list[Frame], line: Sequence[Token]) -> None:
    if frames and line:
        frames[-1].lines.append(tuple(line))


def _forget(frames: list[Frame], header: Sequence[Token]) -> None:
    """A line that turned out to be the header of a body is no entry."""
    if frames and header and frames[-1].lines and frames[-1].lines[-1] == tuple(header):
        frames[-1].lines.pop()


def _leave_unclosed(frames: list[Frame], first: Token) -> None:
    """Close the bodies that must have ended before a statement that begins with this word."""
    while frames and _is_outside(frames[-1], first):
        frames.pop()


def _is_outside(frame: Frame, first: Token) -> bool:
    if first.type not in BEGINNINGS or not frame.header:
        return False
    around = frame.header[0]
    if first.type in INSIDE.get(around.type, frozenset()):
        return False
    return (first.column or 1) <= (around.column or 1) and first.line != around.line


def _entries_behind(tokens: Sequence[Token], index: int, frames: list[Frame]) -> None:
    """Add the entries that follow in the innermost body."""
    if not frames:
        return
    frame, depth, line = frames[-1], 0, list[Token]()
    skipped = True  # the rest of the line in which the cursor stands
    for token in tokens[index:]:
        if depth == 0 and (token.type in GAPS or token.type == "RBRACE"):
            if line and not skipped:
                frame.lines.append(tuple(line))
            line, skipped = [], False
        if token.type in ("LBRACE", "RBRACE"):
            depth += 1 if token.type == "LBRACE" else -1
            if depth < 0:
                return
        elif token.type not in GAPS and depth == 0:
            if not line and not skipped and _is_outside(frame, token):
                return
            line.append(token)
