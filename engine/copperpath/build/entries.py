"""The entries of a body by name: unknown and doubled ones are reported."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from copperpath.build.accepting import ACCEPTING, accepting_key
from copperpath.build.build_errors import DuplicateEntry, UnknownEntry
from copperpath.build.entry_errors import JoinsNothing
from copperpath.build.scope import Scope
from copperpath.build.trade_words import HOW, advice_on, word_for, words_in
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Entry

LED_BY_A_WORD = frozenset(("runs",))
"""Entries whose first value has a joining word before it: `runs on surplus`."""


def known_entries(
    entries: Iterable[Entry],
    known: Sequence[str],
    owner: str,
    scope: Scope,
    *,
    repeatable: Sequence[str] = (),
) -> tuple[list[Entry], frozenset[str]]:
    """The entries of one body that may stay (known ones, each once unless repeatable), and the
    known words that the unknown ones were probably meant as.

    Parameters
    ----------
    owner : str
        Whose body it is, as the start of a sentence: "a cable", "`lfp`".
    """
    kept: list[Entry] = []
    first: dict[str, Entry] = {}
    meant: set[str] = set()
    for entry in entries:
        name = entry.name.text
        key = accepting_key(entry) if name in ACCEPTING else name
        if name not in known:
            other = word_for(name, known)
            near = other or scope.near(name, known)
            advice = advice_on(name)
            meant |= {near, *words_in(advice)}
            span, words = entry.name.span, tuple(known)
            scope.report(UnknownEntry(span, name, owner, near, words, advice, HOW.get(other, "")))
        elif key in first and (name in ACCEPTING or name not in repeatable):
            scope.report(DuplicateEntry(entry.name.span, key, first[key].name.span))
        elif entry.parts and entry.parts[0].joiner and name not in LED_BY_A_WORD:
            first[name] = entry
            meant.add(name)
            part = entry.parts[0]
            word = Span(part.span.source, part.span.start, part.span.start + len(part.joiner))
            scope.report(JoinsNothing(word, name, part.joiner))
        else:
            first[key] = entry
            kept.append(entry)
    return kept, frozenset(meant)
