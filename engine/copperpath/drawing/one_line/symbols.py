"""The symbol of each device, in the style of IEC 60617, in a square from -1 to 1 about its middle.

Wires meet a symbol at its left and right edge, half way up. A model that is not listed gets the
symbol of its kind; converters get theirs from what their terminals are for, so that a new one
needs no entry here.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin

from copperpath.drawing.one_line.ink import Area, Disc, Line, Mark, Words
from copperpath.drawing.one_line.scheme import alternating
from copperpath.plugin_api import Terminal, Ways
from copperpath.station import Device

Drawn = tuple[Mark, ...]

LETTER = 0.36
"""From the middle of a capital letter to its baseline, of its height of one."""


def symbol_of(device: Device) -> Drawn:
    """The symbol of a device; a bus bar has none, it is as long as its wires need."""
    if device.kind == "converter":
        return _converter(device)
    words = set(device.model.name.split("_"))
    if device.kind == "load" and not words & set(LOAD_WORDS):
        # A plain load may be called what it is.
        words |= set(device.name.lower().replace(".", "_").replace("[", "_").split("_"))
    table = {"source": SOURCE_WORDS, "block": BLOCK_WORDS, "load": LOAD_WORDS}.get(device.kind, {})
    for word, draw in table.items():
        if word in words:
            return draw()
    fallback: dict[str, Callable[[], Drawn]] = {
        "source": _direct_source,
        "storage": _capacitor if "supercapacitor" in words else _battery,
        "block": _box,
        "load": _load,
    }
    return fallback[device.kind]()


def is_bus(device: Device) -> bool:
    """True for a strip, drawn as a bus bar: a block with numbered ways."""
    return device.kind == "block" and any(isinstance(t, Ways) for t in device.model.terminals)


def reach_up(device: Device) -> float:
    """How far a symbol (antenna, light) reaches out above its square."""
    highest = 0.0
    for mark in symbol_of(device):
        if isinstance(mark, Line | Area):
            highest = min(highest, *(y for _, y in mark.points))
    return max(-highest - 1.0, 0.0)


def edge_of(device: Device) -> float:
    """How far from its middle wires begin: a symbol's outermost plate or corner."""
    return 0.56 if device.kind == "storage" else 1.0


def earth() -> Drawn:
    """A bond to earth or chassis: it hangs from its top at (0, 0)."""
    return (
        Line(((0.0, 0.0), (0.0, 0.5))),
        Line(((-0.55, 0.5), (0.55, 0.5))),
        Line(((-0.35, 0.72), (0.35, 0.72))),
        Line(((-0.15, 0.94), (0.15, 0.94))),
    )


def fuse(width: float, height: float) -> Drawn:
    """A fuse: a box with the wire through it."""
    return (
        Area(_rectangle(-width / 2, -height / 2, width / 2, height / 2)),
        Line(((-width / 2, 0.0), (width / 2, 0.0))),
    )


def _rectangle(
    left: float, top: float, right: float, bottom: float
) -> tuple[tuple[float, float], ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _letter(text: str, size: float = 1.0, x: float = 0.0, y: float = 0.0) -> Words:
    return Words((x, y + LETTER * size), text, "center", size, inside=True)


def _box() -> Drawn:
    return (Area(_rectangle(-1, -0.7, 1, 0.7)),)


def _square() -> Area:
    return Area(_rectangle(-1, -1, 1, 1))


def _wave(x: float, y: float, half: float) -> Line:
    steps = [number / 12.0 for number in range(13)]
    return Line(tuple((x + half * (2 * s - 1), y - 0.45 * half * sin(2 * pi * s)) for s in steps))


def _equals(x: float, y: float, half: float) -> Drawn:
    """The mark of direct current: a line, and a broken one below."""
    below, dash = y + 0.2, half * 0.5
    return (
        Line(((x - half, y - 0.1), (x + half, y - 0.1))),
        *(
            Line(((x + at * half - dash / 2, below), (x + at * half + dash / 2, below)))
            for at in (-0.7, 0.0, 0.7)
        ),
    )


def _converter(device: Device) -> Drawn:
    """A square with a diagonal: what it takes stands above it, what it gives below."""
    terminals = [each for each in device.model.terminals if isinstance(each, Terminal)]
    takes = any(alternating(device, each.name) for each in terminals if not each.gives)
    given = any(alternating(device, each.name) for each in terminals if each.gives)

    def sort(mains: bool, x: float, y: float) -> Drawn:
        return (_wave(x, y, 0.42),) if mains else _equals(x, y, 0.42)

    return (
        _square(),
        Line(((-1, 1), (1, -1))),
        *sort(takes, -0.42, -0.45),
        *sort(given, 0.42, 0.45),
    )


def _panel() -> Drawn:
    """A photovoltaic module: the triangle points at the terminals, light falls on it."""
    light: list[Mark] = []
    for x in (-0.45, 0.05):
        light.append(Line(((x - 0.45, -1.3), (x, -0.85)), 0.7))
        light.append(Area(((x, -0.85), (x - 0.24, -0.95), (x - 0.1, -1.09)), "ink", "ink", 0.5))
    return (
        Area(_rectangle(-1, -0.65, 1, 0.65)),
        Line(((-1, -0.65), (-0.2, 0), (-1, 0.65))),
        *light,
    )


def _generator() -> Drawn:
    return (Disc((0, 0), 1), _letter("G", 1.0, 0, -0.22), _wave(0, 0.55, 0.34))


def _direct_source() -> Drawn:
    return (Disc((0, 0), 1), _letter("G", 1.0, 0, -0.22), *_equals(0, 0.5, 0.36))


def _battery() -> Drawn:
    plates: list[Mark] = []
    for middle in (-0.4, 0.4):
        plates.append(Line(((middle - 0.16, -0.85), (middle - 0.16, 0.85))))
        plates.append(Line(((middle + 0.16, -0.42), (middle + 0.16, 0.42)), 2.4))
    return (Line(((-0.24, 0), (0.24, 0)), 0.8), *plates)


def _capacitor() -> Drawn:
    return (
        Line(((-0.56, 0), (-0.18, 0))),
        Line(((0.18, 0), (0.56, 0))),
        Line(((-0.18, -0.75), (-0.18, 0.75)), 1.6),
        Line(((0.18, -0.75), (0.18, 0.75)), 1.6),
    )


def _switch() -> Drawn:
    return (
        Line(((-1, 0), (-0.6, 0))),
        Line(((-0.6, 0), (0.6, -0.7))),
        Line(((0.6, 0), (1, 0))),
        Disc((-0.6, 0), 0.09, "ink"),
        Disc((0.6, 0), 0.09, "paper"),
    )


def _disconnect() -> Drawn:
    """A switch that opens by itself when its voltage is low."""
    return (
        *_switch(),
        Line(((0.02, -0.36), (0.02, -0.85)), 0.8, dashed=True),
        Area(_rectangle(-0.82, -1.85, 0.86, -0.85)),
        Words((0.02, -1.02), "U<", "center", 0.93, inside=True),
    )


def _breaker() -> Drawn:
    return (
        Line(((-1, 0), (-0.6, 0))),
        Line(((-0.6, 0), (0.6, -0.7))),
        Line(((0.6, 0), (1, 0))),
        Line(((0.42, -0.18), (0.78, 0.18))),
        Line(((0.42, 0.18), (0.78, -0.18))),
        Disc((-0.6, 0), 0.09, "ink"),
    )


def _fuse() -> Drawn:
    return (Line(((-1, 0), (1, 0))), Area(_rectangle(-0.75, -0.34, 0.75, 0.34), ""))


def _diode() -> Drawn:
    return (
        Line(((-1, 0), (1, 0))),
        Area(((-0.4, -0.5), (0.4, 0), (-0.4, 0.5)), "paper"),
        Line(((0.4, -0.5), (0.4, 0.5))),
    )


def _ideal_diode() -> Drawn:
    """A diode made with a controlled switch: boxed."""
    return (Area(_rectangle(-1, -0.8, 1, 0.8)), *_diode())


def _meter() -> Drawn:
    return (Disc((0, 0), 1), _letter("A", 1.1))


def _instrument() -> Drawn:
    return (
        Disc((0, 0), 1),
        Line(((-0.42, 0.42), (0.42, -0.42))),
        Area(((0.5, -0.5), (0.38, -0.14), (0.14, -0.38)), "ink", "ink", 0.5),
    )


def _socket() -> Drawn:
    arc = tuple((0.35 + 0.6 * cos(a), 0.6 * sin(a)) for a in _angles(pi / 2, 3 * pi / 2))
    return (Line(((-1, 0), (-0.25, 0))), Line(arc, 1.4), Line(((0.35, 0), (1, 0))))


def _angles(first: float, last: float) -> list[float]:
    return [first + (last - first) * step / 16.0 for step in range(17)]


def _load() -> Drawn:
    """What takes power: a box with an arrow into it."""
    return (
        Area(_rectangle(-1, -0.65, 1, 0.65)),
        Line(((-0.6, 0), (0.25, 0)), 0.9),
        Area(((0.6, 0), (0.15, -0.24), (0.15, 0.24)), "ink", "ink", 0.5),
    )


def _mains_load() -> Drawn:
    return (Area(_rectangle(-1, -0.65, 1, 0.65)), _wave(0, 0, 0.5))


def _direct_load() -> Drawn:
    return (Area(_rectangle(-1, -0.65, 1, 0.65)), *_equals(0, -0.05, 0.5))


def _radio() -> Drawn:
    """A box with an antenna."""
    return (
        Area(_rectangle(-1, -0.55, 1, 1)),
        Line(((0.45, -0.55), (0.45, -1.2))),
        Line(((0.05, -1.2), (0.45, -0.8), (0.85, -1.2))),
        *(
            Line(tuple((-0.75 + r * cos(a), 0.22 + r * sin(a)) for a in _angles(-0.8, 0.8)), 0.8)
            for r in (0.4, 0.67, 0.94)
        ),
    )


def _heater() -> Drawn:
    return (
        Area(_rectangle(-1, -0.45, 1, 0.45)),
        *(Line(((x, -0.45), (x, 0.45)), 0.9) for x in (-0.6, -0.2, 0.2, 0.6)),
    )


def _lamp() -> Drawn:
    r = cos(pi / 4)
    return (Disc((0, 0), 1), Line(((-r, -r), (r, r))), Line(((-r, r), (r, -r))))


def _motor() -> Drawn:
    return (Disc((0, 0), 1), _letter("M", 1.25))


SOURCE_WORDS: dict[str, Callable[[], Drawn]] = {
    "photovoltaic": _panel,
    "panel": _panel,
    "film": _panel,
    "generator": _generator,
    "supply": _direct_source,
}
BLOCK_WORDS: dict[str, Callable[[], Drawn]] = {
    "ideal": _ideal_diode,
    "isolator": _ideal_diode,
    "diode": _diode,
    "fuse": _fuse,
    "breaker": _breaker,
    "disconnect": _disconnect,
    "switch": _switch,
    "relay": _switch,
    "meter": _meter,
    "shunt": _meter,
    "socket": _socket,
}
LOAD_WORDS: dict[str, Callable[[], Drawn]] = {
    "transceiver": _radio,
    "repeater": _radio,
    "radio": _radio,
    "heater": _heater,
    "warmer": _heater,
    "lamp": _lamp,
    "lamps": _lamp,
    "light": _lamp,
    "lights": _lamp,
    "motor": _motor,
    "pump": _motor,
    "fan": _motor,
    "fridge": _motor,
    "meter": _instrument,
    "meters": _instrument,
    "mains": _mains_load,
    "usb": _direct_load,
}
