"""The fuses of a cable: rating, the end they sit at, and how far from it.

A cable whose two ends can both feed a short circuit has two, one at each end.
"""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.build.build_errors import WrongForm
from copperpath.build.contacts import fuse_ohm
from copperpath.build.scope import Scope
from copperpath.build.single_values import read_bounded
from copperpath.build.terminals import End
from copperpath.build.wiring_errors import FuseBeyondCable, FuseNowhere, TwoFusesAtOneEnd
from copperpath.station import Fuse
from copperpath_grammar.nodes import CableNode
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Entry, Measure, Reference

FUSE_FORM = "a rating and the end it sits at"
FUSE_EXAMPLE = "fuse 10 A at pack within 100 mm"


def read_fuses(
    entries: Sequence[Entry],
    node: CableNode,
    ends: tuple[End, End],
    length: float | None,
    scope: Scope,
    *,
    poles: int,
) -> tuple[Fuse, ...]:
    """The fuses of a cable, one an end at most; `poles` are how many fuses each of them is."""
    found: dict[str, tuple[Fuse, Entry]] = {}
    for entry in entries:
        fuse = _fuse(entry, node, ends, length, scope, poles)
        if fuse is None:
            continue
        if fuse.end in found:
            at = (node.start if fuse.end == "start" else node.end).text
            first = found[fuse.end][1]
            scope.report(TwoFusesAtOneEnd(entry.span, at, first.span))
        else:
            found[fuse.end] = (fuse, entry)
    return tuple(fuse for fuse, _ in found.values())


def _fuse(
    entry: Entry,
    node: CableNode,
    ends: tuple[End, End],
    length: float | None,
    scope: Scope,
    poles: int,
) -> Fuse | None:
    joiners = tuple(part.joiner for part in entry.parts)
    if joiners == ("",):
        _fuse_nowhere(entry, entry.span, "", node, False, scope)
        return None
    if joiners not in (("", "at"), ("", "at", "within")):
        scope.report(WrongForm(entry.span, "fuse", FUSE_FORM, FUSE_EXAMPLE))
        return None
    rating = read_bounded(
        entry.parts[0].value,
        "current",
        "fuse",
        scope,
        low=0.0,
        high=1000.0,
        low_allowed=False,
        reason="fuses are rated up to 1000 A here",
        example="10 A",
        unit="A",
    )
    end = _fuse_end(entry, node, ends, scope)
    within = None
    if len(entry.parts) == 3:
        within = _within(entry, length, scope)
    if rating is None or end is None:
        return None
    return Fuse(rating, end, within, poles * fuse_ohm(rating))


def _fuse_end(entry: Entry, node: CableNode, ends: tuple[End, End], scope: Scope) -> str | None:
    """ "start" or "end"; None after a report, or if an end of the cable is not known."""
    place = entry.parts[1].value
    if not isinstance(place, Reference):
        scope.report(WrongForm(entry.span, "fuse", FUSE_FORM, FUSE_EXAMPLE))
        return None
    written = place.text
    if written in ("start", "end"):
        this, other = (node.start, node.end) if written == "start" else (node.end, node.start)
        if place.span.text == written == _written(other) != _written(this):
            _fuse_nowhere(entry, place.span, written, node, False, scope)
            return None
        return written
    fits = [
        name
        for name, end, reference in (
            ("start", ends[0], node.start),
            ("end", ends[1], node.end),
        )
        if written in (reference.text, reference.parts[0].text, str(end.terminal))
    ]
    if len(fits) == 1:
        return fits[0]
    _fuse_nowhere(entry, place.span, written, node, len(fits) == 2, scope)
    return None


def _fuse_nowhere(
    entry: Entry, span: Span, written: str, node: CableNode, one_device: bool, scope: Scope
) -> None:
    start, end = _written(node.start), _written(node.end)
    value = entry.parts[0].value
    amps = isinstance(value, Measure) and value.unit == "A"
    rating = value.span.text if amps else "10 A"
    scope.report(FuseNowhere(span, rating, written, start, end, one_device or start == end))


def _written(end: Reference) -> str:
    """The device of an end as the text has it, without the number of one of many."""
    return end.parts[0].span.text.partition("[")[0].strip()


def _within(entry: Entry, length: float | None, scope: Scope) -> float | None:
    value = entry.parts[2].value
    within = read_bounded(
        value,
        "length",
        "fuse ... within",
        scope,
        low=0.0,
        reason="it is a distance along the wire",
        example="100 mm",
        unit="mm",
    )
    if within is not None and length is not None and within > length:
        scope.report(FuseBeyondCable(value.span, value.span.text, f"{length:g} m"))
    return within
