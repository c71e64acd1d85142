"""Structural checks: a tuple of small functions, run in order, each returning what it found.

Findings speak of the wiring as drawn (what is fed by nothing, what is tied to what). Mistakes
of building (an unconnected end, an unknown name) are found before, by the builder.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import networkx

from copperpath.finding import Finding
from copperpath.network.nodes import (
    seeking_terminals,
    solved_terminals,
    terminal_graph,
    wired_parts,
)
from copperpath.network.nothing import nothing_to_solve
from copperpath.plugin_api import Latch, Terminal
from copperpath.station import Cable, Device, Station
from copperpath_grammar.diagnostics import Level
from copperpath_grammar.source import Span

MOST_NAMED = 6
"""Cables named in one finding; the others are counted."""


@dataclass(frozen=True, slots=True)
class Parts:
    """The parts of a station that hang together, each the names of its terminals: by wires alone
    (a converter's two sides are two parts), by wires without diodes, and by what is solved
    together."""

    wired: list[frozenset[str]]
    joined: list[frozenset[str]]
    solved: list[frozenset[str]]


def check_network(station: Station) -> tuple[Finding, ...]:
    """All structural findings of a station, worst first."""
    solved = [frozenset(p) for p in networkx.connected_components(terminal_graph(station))]
    parts = Parts(wired_parts(station), wired_parts(station, through_one_way=False), solved)
    found = [finding for check in CHECKS for finding in check(station, parts)]
    order = list(Level)
    return tuple(sorted(found, key=lambda finding: order.index(finding.level)))


def solvable(findings: tuple[Finding, ...]) -> bool:
    """False if a finding says that this version cannot solve the network."""
    return not any(finding.rule in REFUSED for finding in findings)


def _part_of(parts: list[frozenset[str]], terminal: str) -> frozenset[str]:
    return next(part for part in parts if terminal in part)


def _first_terminal(device: Device) -> str:
    return f"{device.name}.{solved_terminals(device)[0]}"


def _giving(device: Device, part: frozenset[str]) -> bool:
    """True if the device can feed this part."""
    if device.kind in ("source", "storage"):
        return _first_terminal(device) in part
    if device.kind != "converter":
        return False
    return any(
        f"{device.name}.{terminal.name}" in part
        for terminal in device.model.terminals
        if isinstance(terminal, Terminal) and terminal.gives
    )


def fed_parts(station: Station, parts: Parts) -> list[frozenset[str]]:
    """The parts that something gives power to: a source, a store, or a converter that is fed."""
    fed = [
        part
        for part in parts.wired
        if any(d.kind in ("source", "storage") and _giving(d, part) for d in station.devices)
    ]
    while True:
        more = [
            part
            for part in parts.wired
            if part not in fed
            and any(_giving(d, part) and _is_fed(d, fed) for d in station.devices)
        ]
        if not more:
            return fed
        fed += more


def _is_fed(converter: Device, fed: list[frozenset[str]]) -> bool:
    """True if a terminal at which a converter does not give is on a fed part."""
    giving = {t.name for t in converter.model.terminals if isinstance(t, Terminal) and t.gives}
    names = {*solved_terminals(converter), *seeking_terminals(converter)} - giving
    return any(f"{converter.name}.{name}" in part for part in fed for name in names)


def loads_fed_by_nothing(station: Station, parts: Parts) -> list[Finding]:
    """A load whose part of the network holds no source, storage or converter that is fed."""
    found = []
    fed = fed_parts(station, parts)
    for device in station.devices:
        if device.kind == "load" and _part_of(parts.wired, _first_terminal(device)) not in fed:
            found.append(
                Finding(
                    Level.FAIL,
                    "load-without-source",
                    f"`{device.name}` is wired to nothing that gives power",
                    device.name,
                    device.span,
                    "run a cable from a battery, a strip or a converter's output to it",
                )
            )
    return found


def controllers_without_panel(station: Station, parts: Parts) -> list[Finding]:
    """A tracking controller with no source behind its panel side."""
    found = []
    for device in station.devices:
        for terminal in seeking_terminals(device):
            part = _part_of(parts.solved, f"{device.name}.{terminal}")
            if not any(d.kind == "source" and _giving(d, part) for d in station.devices):
                found.append(
                    Finding(
                        Level.WARN,
                        "controller-without-panel",
                        f"`{device.name}.{terminal}` has no source behind it, so it gives nothing",
                        device.name,
                        device.span,
                        f"run a cable from a panel to `{device.name}.{terminal}`",
                    )
                )
    return found


def batteries_tied_together(station: Station, parts: Parts) -> list[Finding]:
    """Two stores on one network: fine if alike and joined with care, so say with what care."""
    found = []
    for part in parts.joined:
        stores = [d for d in station.devices if d.kind == "storage" and _first_terminal(d) in part]
        if len(stores) > 1:
            names = " and ".join(f"`{store.name}`" for store in stores)
            found.append(
                Finding(
                    Level.WARN,
                    "batteries-in-parallel",
                    f"{names} are joined without anything between them",
                    stores[1].name,
                    stores[1].span,
                    "join them only within 0.1 V of each other, one fuse each, equal leads, "
                    "never two chemistries (common practice, no source)",
                )
            )
    return found


def batteries_without_fuse(station: Station, parts: Parts) -> list[Finding]:
    """A cable that leaves a battery and has no fuse at the battery's end."""
    stores = {device.name for device in station.devices if device.kind == "storage"}
    found = []
    for cable in station.cables:
        length = "" if cable.length_m is None else f"{cable.length_m:g} m "
        for end, terminal in (("start", cable.start), ("end", cable.end)):
            if terminal.device in stores and cable.fuse_at(end) is None:
                found.append(
                    Finding(
                        Level.DANGER,
                        "battery-lead-without-fuse",
                        f"nothing opens the {length}lead `{cable.name}` at "
                        f"`{terminal.device}`; shorted, it burns",
                        cable.name,
                        cable.span,
                        f"fit a fuse in it at `{terminal.device}`, within 180 mm of the positive "
                        "post, no larger than the wire may carry",
                    )
                )
    return found


def cables_without_data(station: Station, parts: Parts) -> list[Finding]:
    """Cables whose length or wire is not given, so that their drop is not counted: one finding for
    all that lack the same."""
    lacking: dict[tuple[str, ...], list[Cable]] = {}
    for cable in station.cables:
        if cable.missing:
            lacking.setdefault(cable.missing, []).append(cable)
    return [_without_data(missing, cables) for missing, cables in lacking.items()]


def _without_data(missing: tuple[str, ...], cables: list[Cable]) -> Finding:
    nouns = {"length": "length", "wire": "wire size"}
    lacks = " and no ".join(nouns[each] for each in missing)
    names = ", ".join(f"`{cable.name}`" for cable in cables[:MOST_NAMED])
    if len(cables) > MOST_NAMED:
        names += f" and {len(cables) - MOST_NAMED} more"
    words = (
        f"{names} has no {lacks}, so its drop is not counted: the volts behind it are too high"
        if len(cables) == 1
        else f"{len(cables)} cables have no {lacks}, so their drop is not counted: the volts "
        f"behind them are too high: {names}"
    )
    return Finding(
        Level.WARN,
        "cable-data-missing",
        words,
        cables[0].name,
        cables[0].span,
        f"measure and add {' and '.join(f'`{each}`' for each in missing)}",
    )


def zones_that_cannot_be_solved(station: Station, parts: Parts) -> list[Finding]:
    """What this version refuses on the panel side of a tracking controller."""
    found = []
    for part in parts.solved:
        seekers = [
            (device, terminal)
            for device in station.devices
            for terminal in seeking_terminals(device)
            if f"{device.name}.{terminal}" in part
        ]
        if not seekers:
            continue
        seeker, terminal = seekers[0]
        inside = [d for d in station.devices if d.model.law and _first_terminal(d) in part]
        keepers = [d for d in inside if d.model.states or d.kind == "storage" or d.model.keying]
        for keeper in keepers:
            kind = "a store" if keeper.kind == "storage" else "a device that remembers or is keyed"
            if any(isinstance(state, Latch) for state in keeper.model.states):
                kind += " (it switches by itself)"
            found.append(
                Finding(
                    Level.FAIL,
                    "store-on-panel-side",
                    f"`{keeper.name}` is {kind} on the panel side of `{seeker.name}`; "
                    "this version cannot solve that",
                    keeper.name,
                    keeper.span,
                    f"wire `{keeper.name}` to the battery side of `{seeker.name}`",
                )
            )
        for other, other_terminal in seekers[1:]:
            found.append(
                Finding(
                    Level.WARN,
                    "trackers-share-a-panel",
                    f"`{other.name}.{other_terminal}` and `{seeker.name}.{terminal}` share a "
                    "panel; real trackers on one panel pull each other off its best voltage, "
                    "while the figures here hold them at one voltage together and split the "
                    "power by what each draws",
                    other.name,
                    other.span,
                    "give each controller panels of its own",
                )
            )
    return found


def controllers_bridged(station: Station, parts: Parts) -> list[Finding]:
    """A tracking controller whose panel side hangs together with its own other side."""
    found = []
    for device in station.devices:
        for terminal in seeking_terminals(device):
            part = _part_of(parts.solved, f"{device.name}.{terminal}")
            own = [name for name in solved_terminals(device) if f"{device.name}.{name}" in part]
            if own:
                found.append(
                    Finding(
                        Level.DANGER,
                        "controller-bridged",
                        f"`{device.name}.{terminal}` is joined with its own `{own[0]}` by wires or "
                        "through other devices, past the controller; nothing limits the charge",
                        device.name,
                        device.span,
                        f"take out the cable between what is behind `{device.name}.{terminal}` "
                        "and the rest",
                    )
                )
    return found


def _alternating(device: Device) -> dict[str, bool]:
    """Whether each of a device's declared terminals carries mains; a block's ways tell nothing."""
    return {
        f"{device.name}.{terminal.name}": terminal.alternating
        for terminal in device.model.terminals
        if isinstance(terminal, Terminal) and (device.model.law is not None or terminal.alternating)
    }


def mains_joined_with_battery_wiring(station: Station, parts: Parts) -> list[Finding]:
    """Mains terminals and others on one piece of wire."""
    kinds: dict[str, bool] = {}
    for each in station.devices:
        kinds |= _alternating(each)
    found = []
    for part in parts.wired:
        mains = sorted(name for name in part if kinds.get(name) is True)
        others = sorted(name for name in part if kinds.get(name) is False)
        if mains and others:
            device = station.device(mains[0].rpartition(".")[0])
            found.append(
                Finding(
                    Level.DANGER,
                    "mains-on-battery-wiring",
                    f"`{mains[0]}` carries mains and is joined by wires with `{others[0]}`, which "
                    "does not; this destroys devices and can kill",
                    device.name,
                    device.span,
                    "wire mains terminals only to mains terminals; leave mains wiring to a "
                    "licensed electrician",
                )
            )
    return found


def mains_sources_tied_together(station: Station, parts: Parts) -> list[Finding]:
    """Two devices that put mains on one line: their waves are not in step."""
    found = []
    for part in parts.wired:
        givers = [
            device
            for device in station.devices
            if any(name in part and mains for name, mains in _alternating(device).items())
            and _giving(device, part)
        ]
        if len(givers) > 1:
            names = " and ".join(f"`{giver.name}`" for giver in givers)
            found.append(
                Finding(
                    Level.DANGER,
                    "mains-sources-tied",
                    f"{names} put mains on one line; out of step they short each other",
                    givers[1].name,
                    givers[1].span,
                    "put a transfer switch between them, so that one at a time feeds the line",
                )
            )
    return found


REFUSED = (
    "store-on-panel-side",
    "controller-bridged",
    "mains-on-battery-wiring",
    "mains-sources-tied",
    "keyed-longer-than-always",
    "nothing-to-solve",
)


def left_without_cable(station: Station, parts: Parts) -> list[Finding]:
    """What a case leaves without a cable, as it is without the device or the cable it hung on."""
    return [
        Finding(
            Level.NOTE,
            "left-without-cable",
            f"`{name}` is left without a cable",
            name,
            _place_of(station, name),
            "name it in the same `without`, or give it a cable",
        )
        for name in station.unconnected
    ]


def _place_of(station: Station, name: str) -> Span | None:
    """Where a device stands, named alone or with a terminal."""
    owners = [d for d in station.devices if name == d.name or name.startswith(f"{d.name}.")]
    return max(owners, key=lambda device: len(device.name)).span if owners else None


CHECKS: tuple[Callable[[Station, Parts], list[Finding]], ...] = (
    nothing_to_solve,
    zones_that_cannot_be_solved,
    controllers_bridged,
    mains_joined_with_battery_wiring,
    mains_sources_tied_together,
    loads_fed_by_nothing,
    batteries_without_fuse,
    cables_without_data,
    controllers_without_panel,
    batteries_tied_together,
    left_without_cable,
)
