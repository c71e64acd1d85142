"""`fuse 3 A at strip` where the cable's ends got full names: which end is meant."""

from __future__ import annotations

from dataclasses import replace

from copperpath_grammar.nodes import CableNode
from copperpath_grammar.value_nodes import Body, Entry, Name, Part, Reference


def with_full_places(body: Body, node: CableNode, start: Reference, end: Reference) -> Body:
    """The body with the place of a fuse as `start` or `end`, where it is clear which of the two.

    Parameters
    ----------
    node : CableNode
        The line as written; a place is one of its ends, in whole or the device, with or without
        index.
    start, end : Reference
        The ends of this cable.
    """
    if not any(entry.name.text == "fuse" for entry in body.entries):
        return body
    entries = tuple(
        _entry(entry, node, start, end) if entry.name.text == "fuse" else entry
        for entry in body.entries
    )
    return replace(body, entries=entries)


ENDS = {"start": "end", "end": "start"}
"""The words for the ends of a cable, each with that of the other end."""


def turned(body: Body) -> Body:
    """The body with every fuse at the other end: for a cable that is named the other way round."""
    entries = tuple(
        replace(entry, parts=tuple(_turned(part) for part in entry.parts))
        if entry.name.text == "fuse"
        else entry
        for entry in body.entries
    )
    return replace(body, entries=entries)


def _turned(part: Part) -> Part:
    place = part.value
    if part.joiner != "at" or not isinstance(place, Reference) or place.text not in ENDS:
        return part
    return replace(part, value=Reference((Name(ENDS[place.text], place.span),), place.span))


def _entry(entry: Entry, node: CableNode, start: Reference, end: Reference) -> Entry:
    return replace(entry, parts=tuple(_part(part, node, start, end) for part in entry.parts))


def _part(part: Part, node: CableNode, start: Reference, end: Reference) -> Part:
    place = part.value
    if part.joiner != "at" or not isinstance(place, Reference) or place.text in ENDS:
        return part
    fits = [
        (word, full)
        for word, written, full in (("start", node.start, start), ("end", node.end, end))
        if place.text in _ways_to_write(written)
    ]
    if not fits:
        return part
    word, full = fits[0]
    if len(fits) == 2:
        word = full.parts[0].text
        if word != fits[1][1].parts[0].text:
            return part  # `at lamp` of two lamps
    return replace(part, value=Reference((Name(word, place.span),), place.span))


def _ways_to_write(end: Reference) -> set[str]:
    """`table[1..2].in`: also `table[1..2]` and `table`."""
    first = end.parts[0]
    return {end.text, first.written, first.text}
