"""Cables: ends, wire, length, fuse and joints to one resistance; what was assumed, said once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from copperpath.build.arithmetic import evaluate
from copperpath.build.build_errors import MissingEntry, WrongForm
from copperpath.build.cable_assumptions import Choices
from copperpath.build.common_entries import read_mass
from copperpath.build.contacts import CONTACT_OHM, fuse_ohm, joint_ohm
from copperpath.build.devices import Known
from copperpath.build.entries import known_entries
from copperpath.build.scope import Scope, unread_in
from copperpath.build.single_values import only_value, read_bounded
from copperpath.build.terminals import End, find_end
from copperpath.build.value_errors import UnknownWord
from copperpath.build.wire_sizes import (
    DENSITY,
    Conductor,
    NoSuchSize,
    area_conductor,
    at_temperature,
    gauge_conductor,
)
from copperpath.build.wiring_errors import (
    CableToItself,
    FuseBeyondCable,
    FuseNowhere,
    NoSuchWire,
    NotAWireSize,
    ZeroLength,
)
from copperpath.quantities.units import AREA, GAUGE
from copperpath.station import Cable, Fuse
from copperpath_grammar.nodes import CableNode
from copperpath_grammar.source import Span
from copperpath_grammar.value_nodes import Entry, Reference, Text

ENTRIES = ("length", "wire", "solid", "fuse", "joint", "conductor_temperature", "mass", "note")
REQUIRED = {
    "length": ("its length one way; out and back is reckoned", "length 1.5 m"),
    "wire": ("the size of its copper", "wire 1.5 mm2"),
}
USUAL_COPPER_K = 293.15
INSULATION = 1.6
FUSE_FORM = "a rating and the end it sits at"
FUSE_EXAMPLE = "fuse 10 A at pack within 100 mm"
JOINT_EXAMPLE = "joint 2 of genderless"


@dataclass(frozen=True, slots=True)
class BuiltCable:
    """A cable, or what of its ends is certain if it has mistakes."""

    ends: tuple[End, End]
    cable: Cable | None
    choices: Choices


def build_cable(node: CableNode, known: Mapping[str, Known], scope: Scope) -> BuiltCable:
    """One cable; `cable` of the result is None after a report."""
    ends = (find_end(node.start, known, scope), find_end(node.end, known, scope))
    start, end = ends[0].terminal, ends[1].terminal
    before = len(scope.problems)
    if start is not None and start == end:
        scope.report(CableToItself(node.start.span.to(node.end.span), str(start)))
    by_name, joints = _entries(node, scope)
    length = _length(by_name.get("length"), scope)
    conductor = _wire(by_name.get("wire"), scope, solid=_flag(by_name.get("solid"), scope))
    kelvin = _temperature(by_name.get("conductor_temperature"), scope)
    fuse = _fuse(by_name.get("fuse"), node, ends, length, scope)
    joint_sum, kinds = _joints(joints, scope)
    mass = read_mass(by_name["mass"], scope) if "mass" in by_name else None
    _note(by_name.get("note"), scope)
    choices = Choices()
    if len(scope.problems) > before or length is None or conductor is None or kelvin is None:
        return BuiltCable(ends, None, choices)
    if start is None or end is None:
        return BuiltCable(ends, None, choices)
    copper = 2.0 * DENSITY * conductor.area_m2 * length * INSULATION
    choices = Choices(
        wire=(conductor.name, conductor.assumed),
        flexible="solid" not in by_name,
        usual_temperature="conductor_temperature" not in by_name,
        mass_kg=copper if mass is None else None,
        fuse_a=fuse.rating_a if fuse is not None else None,
        joint_kinds=kinds,
    )
    cable = Cable(
        f"{node.start.text} -> {node.end.text}",
        start,
        end,
        length,
        conductor.name,
        conductor.area_m2,
        at_temperature(2.0 * length * conductor.ohm_per_m, kelvin),
        joint_sum,
        fuse,
        copper if mass is None else mass,
        node.span,
    )
    return BuiltCable(ends, cable, choices)


def with_own_names(cables: list[Cable]) -> tuple[Cable, ...]:
    """The cables with a number behind a name that an earlier one has: `pack -> rig (2)`."""
    seen: dict[str, int] = {}
    named = []
    for cable in cables:
        count = seen[cable.name] = seen.get(cable.name, 0) + 1
        named.append(replace(cable, name=f"{cable.name} ({count})") if count > 1 else cable)
    return tuple(named)


def _entries(node: CableNode, scope: Scope) -> tuple[dict[str, Entry], list[Entry]]:
    """Entries by name, and the joints, of which there may be several kinds."""
    kept, meant = known_entries(node.body.entries, ENTRIES, "a cable", scope, repeatable=("joint",))
    by_name = {entry.name.text: entry for entry in kept if entry.name.text != "joint"}
    for name, (meaning, example) in REQUIRED.items():
        if name not in by_name and name not in meant and not unread_in(node.body, name):
            span = node.start.span.to(node.end.span)
            scope.report(MissingEntry(span, name, "this cable", meaning, example))
    return by_name, [entry for entry in kept if entry.name.text == "joint"]


def _length(entry: Entry | None, scope: Scope) -> float | None:
    if entry is None:
        return None
    value = only_value(entry)
    if value is None:
        scope.report(WrongForm(entry.span, "length", "one length, one way", "length 1.5 m"))
        return None
    length = read_bounded(
        value,
        "length",
        "length",
        scope,
        low=0.0,
        high=10e3,
        reason="a cable is measured one way, from end to end, up to 10 km",
        example="1.5 m",
        unit="m",
    )
    if length == 0.0:
        scope.report(ZeroLength(value.span))
        return None
    return length


def _wire(entry: Entry | None, scope: Scope, *, solid: bool) -> Conductor | None:
    if entry is None:
        return None
    value = only_value(entry)
    if value is None:
        takes = "one size: an area of copper or a gauge"
        scope.report(WrongForm(entry.span, "wire", takes, "wire 1.5 mm2"))
        return None
    # `wire 16` or `wire 1.5 mm`: the noun says what is wrong.
    found = evaluate(value, scope)
    if found is None:
        return None
    given = value.span.text
    try:
        if found.dims == GAUGE:
            return gauge_conductor(found.value, solid=solid)
        if found.dims == AREA:
            return area_conductor(found.value * 1e6, solid=solid)
    except NoSuchSize as problem:
        scope.report(NoSuchWire(value.span, given, str(problem)))
        return None
    scope.report(NotAWireSize(value.span, given, found.noun))
    return None


def _temperature(entry: Entry | None, scope: Scope) -> float | None:
    if entry is None:
        return USUAL_COPPER_K
    value = only_value(entry)
    if value is None:
        takes = "how warm the copper is"
        scope.report(
            WrongForm(entry.span, "conductor_temperature", takes, "conductor_temperature 20 degC")
        )
        return None
    return read_bounded(
        value,
        "temperature",
        "conductor_temperature",
        scope,
        low=193.15,
        high=473.15,
        reason="the copper of a cable in use is between -80 degC and 200 degC",
        example="20 degC",
        unit="degC",
    )


def _fuse(
    entry: Entry | None,
    node: CableNode,
    ends: tuple[End, End],
    length: float | None,
    scope: Scope,
) -> Fuse | None:
    if entry is None:
        return None
    joiners = tuple(part.joiner for part in entry.parts)
    if joiners == ("",):
        _fuse_nowhere(entry.span, "", node, False, scope)
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
    return Fuse(rating, end, within, fuse_ohm(rating))


def _fuse_end(entry: Entry, node: CableNode, ends: tuple[End, End], scope: Scope) -> str | None:
    """ "start" or "end"; None after a report, or if an end of the cable is not known."""
    place = entry.parts[1].value
    if not isinstance(place, Reference):
        scope.report(WrongForm(entry.span, "fuse", FUSE_FORM, FUSE_EXAMPLE))
        return None
    written = place.text
    if written in ("start", "end"):
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
    _fuse_nowhere(place.span, written, node, len(fits) == 2, scope)
    return None


def _fuse_nowhere(
    span: Span, written: str, node: CableNode, one_device: bool, scope: Scope
) -> None:
    start, end = _written(node.start), _written(node.end)
    scope.report(FuseNowhere(span, written, start, end, one_device or start == end))


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


def _joints(entries: list[Entry], scope: Scope) -> tuple[float, tuple[str, ...]]:
    """Resistance of all joints [ohm], and their kinds."""
    total, kinds = 0.0, []
    for entry in entries:
        joiners = tuple(part.joiner for part in entry.parts)
        if joiners != ("", "of") or not isinstance(entry.parts[1].value, Reference):
            takes = "how many mated pairs, `of`, and which kind"
            scope.report(WrongForm(entry.span, "joint", takes, JOINT_EXAMPLE))
            continue
        pairs = read_bounded(
            entry.parts[0].value,
            "number",
            "joint",
            scope,
            low=1.0,
            high=50.0,
            reason="it counts the mated pairs in this cable",
            example="2",
            whole=True,
        )
        word = entry.parts[1].value
        if word.text not in CONTACT_OHM:
            words = tuple(CONTACT_OHM)
            near = scope.near(word.text, words)
            scope.report(UnknownWord(word.span, "joint", word.text, near, words))
        elif pairs is not None:
            total += joint_ohm(word.text, pairs)
            kinds.append(word.text)
    return total, tuple(kinds)


def _flag(entry: Entry | None, scope: Scope) -> bool:
    if entry is not None and entry.parts:
        scope.report(WrongForm(entry.span, entry.name.text, "no value", entry.name.text))
    return entry is not None


def _note(entry: Entry | None, scope: Scope) -> None:
    if entry is not None and not isinstance(only_value(entry), Text):
        scope.report(WrongForm(entry.span, "note", "a text in double quotes", 'note "red"'))
