"""Cables: ends, wire, length, fuses and joints to one resistance; what was assumed, said once.

A cable whose length or wire is not known yet is solved as if it had no loss but in its fuses and
joints, and that is said.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from copperpath.build.accepting import ACCEPTING, read_accepting
from copperpath.build.arithmetic import evaluate
from copperpath.build.build_errors import WrongForm
from copperpath.build.cable_assumptions import WITHOUT_DATA_OHM, Choices
from copperpath.build.cable_facts import FACTS, read_facts, read_flag
from copperpath.build.common_entries import read_mass
from copperpath.build.contacts import CONTACT_OHM, joint_ohm
from copperpath.build.devices import Known
from copperpath.build.entries import known_entries
from copperpath.build.fuses import read_fuses
from copperpath.build.scope import Scope
from copperpath.build.single_values import only_value, read_bounded
from copperpath.build.terminals import End, find_end
from copperpath.build.value_errors import UnknownWord
from copperpath.build.wire_sizes import (
    Conductor,
    NoSuchSize,
    area_conductor,
    at_temperature,
    clad,
    gauge_conductor,
)
from copperpath.build.wiring_errors import (
    CableToItself,
    NoSuchWire,
    NotAWireSize,
    ZeroLength,
)
from copperpath.quantities.units import AREA, GAUGE
from copperpath.station import Cable, Joint
from copperpath_grammar.nodes import CableNode
from copperpath_grammar.value_nodes import Entry, Reference, Text

ENTRIES = (
    "length",
    "wire",
    "solid",
    "fuse",
    "joint",
    "conductor_temperature",
    "mass",
    "note",
    *FACTS,
    *ACCEPTING,
)
REPEATABLE = ("fuse", "joint", *ACCEPTING)
USUAL_COPPER_K = 293.15
INSULATION = 1.6
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
    kept, _ = known_entries(node.body.entries, ENTRIES, "a cable", scope, repeatable=REPEATABLE)
    by_name = {entry.name.text: entry for entry in kept}
    facts = read_facts(by_name, scope)
    length = _length(by_name.get("length"), scope)
    conductor = _wire(
        by_name.get("wire"),
        scope,
        solid=read_flag(by_name.get("solid"), scope),
        copper_clad=facts.copper_clad,
    )
    kelvin = _temperature(by_name.get("conductor_temperature"), scope)
    fuses = read_fuses(
        [entry for entry in kept if entry.name.text == "fuse"],
        node,
        ends,
        length,
        scope,
        poles=2 if facts.fuse_poles == "both" else 1,
    )
    joints = _joints([entry for entry in kept if entry.name.text == "joint"], scope)
    mass = read_mass(by_name["mass"], scope) if "mass" in by_name else None
    _note(by_name.get("note"), scope)
    accepted, confirmed = read_accepting(kept, f"{node.start.text} -> {node.end.text}", scope)
    choices = Choices()
    if len(scope.problems) > before or start is None or end is None or kelvin is None:
        return BuiltCable(ends, None, choices)
    wire_ohm, reckoned_kg = WITHOUT_DATA_OHM, None
    if length is not None and conductor is not None:
        wire_ohm = at_temperature(2.0 * length * conductor.ohm_per_m, kelvin)
        reckoned_kg = 2.0 * conductor.density * conductor.area_m2 * length * INSULATION
    cable = Cable(
        f"{node.start.text} -> {node.end.text}",
        start,
        end,
        length,
        "" if conductor is None else conductor.name,
        None if conductor is None else conductor.area_m2,
        wire_ohm,
        joints,
        fuses,
        reckoned_kg if mass is None else mass,
        node.span,
        facts,
        "solid" in by_name,
        kelvin,
        accepted,
        confirmed,
    )
    return BuiltCable(ends, cable, _choices(cable, conductor, by_name))


def _choices(
    cable: Cable,
    conductor: Conductor | None,
    by_name: Mapping[str, Entry],
) -> Choices:
    """What the file left open of a cable."""
    known = conductor is not None
    return Choices(
        name=cable.name,
        missing=cable.missing,
        wire=(conductor.name, conductor.assumed) if conductor is not None else ("", ""),
        flexible=known and "solid" not in by_name,
        usual_temperature=known and "conductor_temperature" not in by_name,
        mass_kg=None if "mass" in by_name else cable.mass_kg,
        fuses_a=tuple(fuse.rating_a for fuse in cable.fuses),
        joint_kinds=tuple(joint.kind for joint in cable.joints),
        copper_clad=known and cable.facts.copper_clad,
    )


def with_own_names(cables: list[Cable]) -> tuple[Cable, ...]:
    """The cables with a number behind a name that an earlier one has: `pack -> rig (2)`."""
    seen: dict[str, int] = {}
    named = []
    for cable in cables:
        count = seen[cable.name] = seen.get(cable.name, 0) + 1
        named.append(replace(cable, name=f"{cable.name} ({count})") if count > 1 else cable)
    return tuple(named)


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


def _wire(entry: Entry | None, scope: Scope, *, solid: bool, copper_clad: bool) -> Conductor | None:
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
            conductor = gauge_conductor(found.value, solid=solid)
            return clad(conductor) if copper_clad else conductor
        if found.dims == AREA:
            conductor = area_conductor(found.value * 1e6, solid=solid)
            return clad(conductor) if copper_clad else conductor
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


def _joints(entries: list[Entry], scope: Scope) -> tuple[Joint, ...]:
    """The joints of a cable that could be read."""
    found = []
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
            found.append(Joint(word.text, int(pairs), joint_ohm(word.text, pairs)))
    return tuple(found)


def _note(entry: Entry | None, scope: Scope) -> None:
    if entry is not None and not isinstance(only_value(entry), Text):
        scope.report(WrongForm(entry.span, "note", "a text in double quotes", 'note "red"'))
