"""Small pieces of sentences, and the nearest known word to a mistyped one."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from copperpath_grammar.diagnostics import Label
from copperpath_grammar.source import Span

MOST_PLACES = 3
"""Further places shown for a mistake that was made several times."""

ENOUGH_WORDS = 500
"""Most known words that a mistyped one is compared with, so that a huge file stays fast."""


def listed(words: Iterable[str], last: str = "and") -> str:
    """`a`, `b` and `c`, each in backticks."""
    quoted = [f"`{word}`" for word in words]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {last} {quoted[-1]}"


def meant(near: str) -> str:
    """A label that proposes a word; empty without one."""
    return f"did you mean `{near}`?" if near else ""


def places(spans: tuple[Span, ...]) -> tuple[Label, ...]:
    """Further places of one mistake, the first few of them."""
    return tuple(Label(span, "here too") for span in spans[:MOST_PLACES])


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word that was probably meant, or "": one that differs by capitals first."""
    words = list(dict.fromkeys(known))[:ENOUGH_WORDS]
    for each in words:
        if each.lower() == word.lower():
            return each
    near = get_close_matches(word.lower(), [each.lower() for each in words], n=1, cutoff=0.6)
    if near:
        return next(each for each in words if each.lower() == near[0])
    # A short start of a long word ("trans" for "transmit"), or the other way round.
    if len(word) >= 3:
        for each in words:
            if each.lower().startswith(word.lower()):
                return each
    return ""
