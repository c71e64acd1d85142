"""The station as lines between terminals: cables, and the plain ways of blocks, with what opens
on them. A converter's two sides are not joined here."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.network.nodes import solved_terminals
from copperpath.plugin_api import Terminal
from copperpath.station import Cable, Device, Station

PASSING_OHM = 1e-3
"""Taken for a block whose way follows a law (a diode, a breaker): small, not nothing [ohm]."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line; `rating_a` is what opens it, None if nothing does, `device` is "" for a cable."""

    start: str
    end: str
    ohm: float
    cable: str = ""
    device: str = ""
    rating_a: float | None = None


def lines_of(station: Station) -> tuple[Line, ...]:
    """All lines of a station."""
    lines = [
        Line(str(cable.start), str(cable.end), cable.resistance_ohm, cable=cable.name)
        for cable in station.cables
    ]
    for device in station.devices:
        lines += _ways(device)
    return tuple(lines)


def _ways(device: Device) -> list[Line]:
    """The lines inside a block, from its first terminal to each of the others."""
    if device.kind != "block":
        return []
    rating = opens_at(device)
    links = device.model.links(device.values)
    if links:
        return [
            Line(f"{device.name}.{link.start}", f"{device.name}.{link.end}", link.ohm)
            if rating is None
            else Line(
                f"{device.name}.{link.start}",
                f"{device.name}.{link.end}",
                link.ohm,
                device=device.name,
                rating_a=rating,
            )
            for link in links
        ]
    names = [name for name in solved_terminals(device) if name not in device.model.inner]
    return [
        Line(
            f"{device.name}.{names[0]}",
            f"{device.name}.{other}",
            PASSING_OHM,
            device=device.name,
            rating_a=rating,
        )
        for other in names[1:]
    ]


def opens_at(device: Device) -> float | None:
    """The rating at which a block opens by itself: a fuse or a breaker [A]."""
    if device.kind != "block" or not any(latch for latch in _blows(device)):
        return None
    rating = device.values.get("rating")
    return None if rating is None else float(rating)


def _blows(device: Device) -> list[str]:
    return [device.model.name] if device.model.name in ("fuse", "breaker") else []


def giving_terminals(station: Station) -> dict[str, Device]:
    """Terminals at which something can give power: all of sources and stores, those of converters
    that say so."""
    giving: dict[str, Device] = {}
    for device in station.devices:
        plain = [t for t in device.model.terminals if isinstance(t, Terminal) and not t.seeking]
        if device.kind in ("source", "storage"):
            # A generator's sense lead gives nothing.
            mains = [terminal for terminal in plain if terminal.alternating]
            giving |= {f"{device.name}.{each.name}": device for each in mains or plain}
        else:
            giving |= {f"{device.name}.{each.name}": device for each in plain if each.gives}
    return giving


def supply_terminal(device: Device) -> str:
    """Full name of the terminal at which a device takes its power."""
    if device.model.powered:
        return f"{device.name}.{device.model.powered[0]}"
    plain = [t for t in device.model.terminals if isinstance(t, Terminal)]
    main = next((t.name for t in plain if t.main), None)
    if main is None:
        main = solved_terminals(device)[0]
    return f"{device.name}.{main}"


def cable_named(station: Station, name: str) -> Cable:
    """The cable of that name.

    Raises
    ------
    KeyError
        If there is none.
    """
    for cable in station.cables:
        if cable.name == name:
            return cable
    raise KeyError(name)
