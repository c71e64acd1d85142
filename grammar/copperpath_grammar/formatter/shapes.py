"""The columns that an item has: what stands below what where such items follow each other."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from lark import Token

THINGS = {"PART", "KIND", "KIT"}
LISTS = {"ASSEMBLY", "CASE"}
CASE_WORDS = THINGS | {"LET", "CABLE", "NEVER", "CHANGE", "WITHOUT"}
COLUMN_STARTS = {"thing": "COLON", "let": "EQUAL"}
SHAPES = {"LET": "let", "CABLE": "cable", "DATA": "data", "EXPOSE": "expose", "CHANGE": "change"}


def shape_of(words: Sequence[Token], *, within: str) -> str:
    """Which kind of table an item belongs to; items of one kind that follow each other are one.

    `within` is the type of the word that the surrounding block belongs to, empty in a file.
    """
    kind = words[0].type
    if within and within not in LISTS:
        return "entry"
    if within == "CASE" and kind not in CASE_WORDS:
        return "entry"
    if kind in THINGS:
        return "thing"
    if kind == "CHANGE" and any(word.type == "ARROW" for word in words):
        return "change cable"
    return SHAPES.get(kind, "")


def columns_of(words: Sequence[Token], texts: Sequence[str], shape: str) -> tuple[str, ...]:
    """The texts of an item's words, joined to the columns of its shape."""
    starts: list[int] = []
    if shape in ("thing", "entry"):
        starts.append(1)
    if shape not in ("", "entry"):
        wanted = COLUMN_STARTS.get(shape, "ARROW")
        starts += [place for place, word in enumerate(words) if word.type == wanted][:1]
    edges = [0, *[start for start in starts if start < len(words)], len(words)]
    return tuple("".join(texts[start:end]).strip(" ") for start, end in pairwise(edges))
