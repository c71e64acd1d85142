"""Names of many of one kind, written short: `table[1..3].rig[1..2]` for six radios."""

from __future__ import annotations

import re
from collections.abc import Iterable

MOST_NAMES = 12
"""Names in a sentence; the others are counted."""

_INDEX = re.compile(r"\[([0-9]+)\]")
Piece = str | tuple[int, int]


def shortened(names: Iterable[str]) -> list[str]:
    """The names in their order, those that differ by one running number made one."""
    found = [_pieces(name) for name in names]
    for place in range(max((len(each) for each in found), default=1) - 2, 0, -2):
        found = _merged(found, place)
    return ["".join(_text(piece) for piece in pieces) for pieces in found]


def in_a_sentence(names: Iterable[str]) -> str:
    """The same between commas, the first few of them."""
    short = shortened(names)
    if len(short) <= MOST_NAMES:
        return ", ".join(short)
    return f"{', '.join(short[:MOST_NAMES])} and {len(short) - MOST_NAMES} others"


def _pieces(name: str) -> list[Piece]:
    """`table[1].in` to `table`, (1, 1), `.in`."""
    parts = _INDEX.split(name)
    return [(int(part), int(part)) if at % 2 else part for at, part in enumerate(parts)]


def _merged(names: list[list[Piece]], place: int) -> list[list[Piece]]:
    """Names alike but for the number at one place become one where the numbers run on."""
    kept: list[list[Piece]] = []
    last: dict[tuple[Piece | int, ...], list[Piece]] = {}
    for name in names:
        if len(name) <= place:
            kept.append(name)
            continue
        here = name[place]
        key = (place, *name[:place], *name[place + 1 :])
        before = last[key][place] if key in last else None
        if isinstance(here, tuple) and isinstance(before, tuple) and before[1] + 1 == here[0]:
            last[key][place] = (before[0], here[1])
        else:
            last[key] = list(name)
            kept.append(last[key])
    return kept


def _text(piece: Piece) -> str:
    if isinstance(piece, str):
        return piece
    low, high = piece
    return f"[{low}]" if low == high else f"[{low}..{high}]"
