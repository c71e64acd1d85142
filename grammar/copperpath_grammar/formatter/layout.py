"""From the outline of a file to its rows: what stands on one line, and in which columns.

A body stays on one line if its author had it so and it fits. Of several lines, each holds one
statement, or the entries that its author had there; a line that does not fit is broken at every
`;`. Whether it fits does not depend on its neighbours, so that a change of one statement moves
nothing else but blanks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from copperpath_grammar.formatter.columns import column_width, padded, shares, width
from copperpath_grammar.formatter.outline import Block, Item, Line
from copperpath_grammar.formatter.shapes import columns_of, shape_of
from copperpath_grammar.formatter.spacing import texts_of

WIDTH = 120  # of a line with single blanks
WIDEST = 132  # to which columns may widen it
INDENT = 4
HEAD_PADDING = 24  # columns of statements: names, models, ends of cables
NAME_PADDING = 10  # names of entries, one below the other
CELL_PADDING = 16  # entries in braces, one below the other


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the result; `code` or `remark` may be empty.

    `follows` says that the remark goes on below that of the row before.
    """

    depth: int
    code: str
    remark: str
    blank_before: bool
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """An item with its words in columns; `inner` is what its braces hold if that is on one line,
    `block` if it is on several; neither if there are no braces."""

    shape: str
    columns: tuple[str, ...]
    inner: tuple[Piece, ...] | None = None
    block: Block | None = None
    kind: str = ""
    """Type of the first word, for the items within the braces."""

    @property
    def text(self) -> str:
        """All of it with single blanks, or its first line."""
        head = " ".join(self.columns)
        if self.inner is not None:
            return f"{head} {braces(piece.text for piece in self.inner)}"
        return f"{head} {{" if self.block is not None else head


@dataclass(frozen=True, slots=True)
class Unit:
    """Pieces that stay together on a line, with the remark behind and the blank line before."""

    pieces: tuple[Piece, ...]
    remark: str
    blank_before: bool
    follows: bool = False

    @property
    def shape(self) -> str:
        """The shape of the one piece; empty for several or none."""
        return self.pieces[0].shape if len(self.pieces) == 1 else ""


def braces(texts: Iterator[str]) -> str:
    """`{ a; b }`, or `{ }`."""
    inside = "; ".join(texts)
    return f"{{ {inside} }}" if inside else "{ }"


def rows_of(block: Block, source: str, depth: int = 0, within: str = "") -> Iterator[Row]:
    """The rows of a block."""
    units = [unit for line in block.lines for unit in _units(line, source, depth, within)]
    for unit, code in zip(units, _aligned(units, depth), strict=True):
        last = unit.pieces[-1] if unit.pieces else None
        inside = last.block if last else None
        if last is None or inside is None:
            yield Row(depth, code, unit.remark, unit.blank_before, unit.follows)
            continue
        # A body that its author had on one line takes the remark behind it to the first line.
        moved = "" if inside.parted else unit.remark
        yield Row(depth, code, inside.remark or moved, unit.blank_before)
        yield from rows_of(inside, source, depth + 1, last.kind)
        yield Row(depth, "}", "" if moved else unit.remark, False)


# ---- what stands on one line ----------------------------------------------------------------


def _units(line: Line, source: str, depth: int, within: str) -> Iterator[Unit]:
    pieces = [_piece(item, source, depth, within) for item in line.items]
    together = "; ".join(piece.text for piece in pieces)
    whole = Unit(tuple(pieces), line.remark, line.blank_before, line.follows)
    fits = depth * INDENT + width(together) <= WIDTH
    if len(pieces) < 2 or (fits and all(piece.shape == "entry" for piece in pieces)):
        yield whole
        return
    for place, piece in enumerate(pieces):
        remark = line.remark if place == len(pieces) - 1 else ""
        yield Unit((piece,), remark, line.blank_before and place == 0)


def _piece(item: Item, source: str, depth: int, within: str) -> Piece:
    shape = shape_of(item.words, within=within)
    texts = texts_of(item.words, source, entry=shape == "entry")
    piece = Piece(shape, columns_of(item.words, texts, shape), kind=item.words[0].type)
    if item.block is None:
        return piece
    parted = replace(piece, block=item.block)
    if item.block.parted:
        return parted
    items = [inner for line in item.block.lines for inner in line.items]
    inner = tuple(_piece(each, source, 0, piece.kind) for each in items)
    whole = replace(piece, inner=inner)
    fits = depth * INDENT + width(whole.text) <= WIDTH and all(p.block is None for p in inner)
    return whole if fits or not inner else parted


# ---- columns --------------------------------------------------------------------------------


def _aligned(units: Sequence[Unit], depth: int) -> list[str]:
    """The code of every unit, with the columns of neighbours of one shape below each other."""
    codes = ["; ".join(piece.text for piece in unit.pieces) for unit in units]
    for table in _tables(units):
        pieces = [units[place].pieces[0] for place in table]
        heads = _heads(pieces)
        bodies = _bodies(pieces)
        for place, piece, head, body in zip(table, pieces, heads, bodies, strict=True):
            plain = piece.text.removeprefix(" ".join(piece.columns))
            choices = (head + body, head + plain)
            fitting = (text for text in choices if depth * INDENT + width(text) <= WIDEST)
            codes[place] = next(fitting, codes[place])
    return codes


def _tables(units: Sequence[Unit]) -> Iterator[list[int]]:
    """Places of units of one shape that follow each other; a remark between does not part them."""
    table: list[int] = []
    shape = ""
    for place, unit in enumerate(units):
        if unit.blank_before or (unit.pieces and unit.shape != shape):
            yield table
            table, shape = [], ""
        if unit.pieces and unit.shape:
            table.append(place)
            shape = unit.shape
    yield table


def _heads(pieces: Sequence[Piece]) -> list[str]:
    """The words before the braces, column by column."""
    heads = [""] * len(pieces)
    loose: set[int] = set()  # those that stand outside a column: they have none behind it either
    for column in range(max((len(piece.columns) for piece in pieces), default=0)):
        # Nothing stands behind the last column of an item without braces: it needs no width.
        sized = [
            width(piece.columns[column])
            for piece in pieces
            if len(piece.columns) > column + (piece.inner is None and piece.block is None)
        ]
        padding = NAME_PADDING if pieces[0].shape == "entry" else HEAD_PADDING
        shared = column_width(sized, padding)
        for place, piece in enumerate(pieces):
            if column >= len(piece.columns):
                continue
            text = piece.columns[column]
            heads[place] += f" {text}" if column else text
            if place not in loose and shares(text, shared):
                heads[place] += " " * (shared[1] - width(text))
            else:
                loose.add(place)
    return [
        head.rstrip(" ") if piece.inner is None and piece.block is None else head
        for head, piece in zip(heads, pieces, strict=True)
    ]


def _bodies(pieces: Sequence[Piece]) -> list[str]:
    """What stands behind those words: braces on one line with the entries in columns."""
    cells = [
        [f"{inner.text};" for inner in (piece.inner or ())[:-1]]
        + [inner.text for inner in (piece.inner or ())[-1:]]
        for piece in pieces
    ]
    _align_cells(pieces, cells, list(range(len(pieces))), 0)
    bodies = []
    for piece, texts in zip(pieces, cells, strict=True):
        if piece.inner is None:
            bodies.append(" {" if piece.block is not None else "")
        else:
            bodies.append(f" {{ {' '.join(texts)} }}" if texts else " { }")
    return bodies


def _align_cells(
    pieces: Sequence[Piece], cells: list[list[str]], rows: Sequence[int], column: int
) -> None:
    """Pad one column of entries where neighbours have an entry of one name, then the next."""
    there = [row for row in rows if column < len(cells[row])]

    def name(row: int) -> str:
        inner = pieces[row].inner
        return inner[column].columns[0] if inner else ""

    for _, group in groupby(there, key=name):
        same = list(group)
        followed = [row for row in same if column + 1 < len(cells[row])]
        shared = column_width([width(cells[row][column]) for row in followed], CELL_PADDING)
        for row in followed:
            cells[row][column] = padded(cells[row][column], shared)
        if followed:
            _align_cells(pieces, cells, same, column + 1)
