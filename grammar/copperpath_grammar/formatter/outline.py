"""The outline of a file: which words stand on one line, what is in which braces, which remark
belongs where. Widths and columns are decided in `layout`.

A file that was read without a mistake needs no grammar here: an item is all words up to its brace
or its end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from lark import Token

from copperpath_grammar.formatter.marks import BREAK, END, REMARK, WORD, Mark, marks_of


@dataclass(frozen=True, slots=True)
class Item:
    """A statement or an entry: its words up to the brace, and what stands in its braces."""

    words: tuple[Token, ...]
    block: Block | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """What the author had on one line: items and the remark behind them, or a remark alone.

    `follows` says that a remark alone goes on below the one in the line before.
    """

    items: tuple[Item, ...]
    remark: str
    blank_before: bool
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """The lines between two braces, or of a whole file.

    `remark` is the one behind the opening brace, `parted` says that the author broke lines here.
    """

    lines: tuple[Line, ...]
    remark: str = ""
    parted: bool = False


def outline_of(text: str, tokens: Sequence[Token]) -> Block:
    """The outline of a text that was read without a mistake."""
    return _Reader(marks_of(text, tokens)).block(())


@dataclass(slots=True)
class _Lines:
    """The lines of one block as they are gathered."""

    done: list[Line] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    remark: str = ""
    follows: bool = False
    breaks: int = 0
    blank: bool = False
    """True if a blank line was met since the last line."""

    def end_line(self) -> None:
        """A line break: what was gathered is one line."""
        if self.items or self.remark:
            blank = self.blank and bool(self.done)
            self.done.append(Line(tuple(self.items), self.remark, blank, self.follows))
            self.items, self.remark, self.follows = [], "", False
            self.breaks, self.blank = 0, False
        self.breaks += 1
        self.blank = self.blank or self.breaks > 1


class _Reader:
    """Goes through the marks once."""

    def __init__(self, marks: Sequence[Mark]) -> None:
        self.marks = marks
        self.place = 0
        self.remark_column = -1
        """Column of the remark in the line before; -1 if there is none."""

    def block(self, early: Sequence[str]) -> Block:
        """The lines up to a closing brace or the end; `early` are remarks from before the brace."""
        lines, begin = _Lines(), self.place
        first, *rest = early or ("",)
        for text in rest:
            lines.remark = text
            lines.end_line()
        lines.blank, lines.breaks = False, 0
        fresh = bool(self.place)  # a remark that comes now stands behind the brace
        while self.place < len(self.marks):
            mark = self.marks[self.place]
            if mark.kind == WORD and mark.is_close:
                break
            if mark.kind == WORD:
                self.remark_column = -1
                lines.items.append(self.item())
                self.remark_column = -1
            elif mark.kind == BREAK:
                if self.place and self.marks[self.place - 1].kind == BREAK:
                    self.remark_column = -1  # a blank line
                lines.end_line()
                self.place += 1
            elif mark.kind == END:
                lines.breaks = 0
                self.place += 1
            elif fresh and not first:
                first = self._remark(mark)
            else:
                lines.follows = not lines.items and mark.column == self.remark_column
                lines.remark = self._remark(mark)
            fresh = fresh and mark.kind == END
        parted = any(mark.kind == BREAK for mark in self.marks[begin : self.place])
        lines.end_line()
        self.place += 1  # the closing brace
        return Block(tuple(lines.done), first, parted or bool(early))

    def _remark(self, mark: Mark) -> str:
        self.place += 1
        self.remark_column = mark.column
        return mark.text

    def item(self) -> Item:
        """The item that begins here."""
        words: list[Token] = []
        while self.place < len(self.marks):
            mark = self.marks[self.place]
            if mark.token is None or mark.is_open or mark.is_close:
                break
            words.append(mark.token)
            self.place += 1
        brace = self.place
        early: list[str] = []
        while brace < len(self.marks) and self.marks[brace].kind in (BREAK, REMARK):
            if self.marks[brace].kind == REMARK:
                early.append(self.marks[brace].text)
            brace += 1
        if brace == len(self.marks) or not self.marks[brace].is_open:
            return Item(tuple(words))
        self.place = brace + 1
        return Item(tuple(words), self.block(early))
