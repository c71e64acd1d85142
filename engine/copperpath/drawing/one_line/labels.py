"""What is written beside devices and cables, and how much room it takes. All lengths in ems."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from typing import TypeGuard

from copperpath.drawing.one_line.annotations import Annotations
from copperpath.drawing.one_line.letters import shown, width
from copperpath.drawing.one_line.scheme import Link, Scheme, alternating
from copperpath.plugin_api import Ways
from copperpath.station import Cable, Device, Fuse
from copperpath_grammar.diagnostics import Level

COULOMBS_PER_AH = 3600.0

SPACE = 0.5
"""Between two pieces of writing."""

MARK_SHAPE = 0.9
"""Width of the shape of a finding's mark; its number stands behind it."""


@dataclass(frozen=True, slots=True)
class DeviceLabel:
    """Name, figures, marks of findings, and what it is bonded to."""

    name: str
    figures: str
    marks: tuple[tuple[Level, int], ...]
    bonds: tuple[str, ...]

    @property
    def name_width(self) -> float:
        """Of the name and the marks behind it."""
        return width(self.name, bold=True) + marks_width(self.marks)


@dataclass(frozen=True, slots=True)
class CableLabel:
    """Words over and under the wire at its left end, marks of findings, and at either end the
    terminal and the rating of the fuse; "" where there is none."""

    over: str
    under: str
    marks: tuple[tuple[Level, int], ...]
    left_terminal: str
    right_terminal: str
    left_fuse: str
    right_fuse: str
    mains: bool


@dataclass(frozen=True, slots=True)
class Labels:
    """All labels of a drawing: by device, and by link in their order."""

    devices: dict[str, DeviceLabel]
    links: tuple[CableLabel, ...]


def make_labels(scheme: Scheme, notes: Annotations, *, dense: bool) -> Labels:
    """The labels of a scheme. `dense` puts amps behind the length, not under the wire."""
    devices = {device.name: device for device in scheme.station.devices}
    bonds: dict[str, list[str]] = {}
    for bond in scheme.station.bonds:
        bonds.setdefault(bond.start, []).append(shown(bond.end))
    return Labels(
        {
            name: DeviceLabel(
                shown(name),
                _device_figures(device, notes),
                notes.marks.get(name, ()),
                tuple(bonds.get(name, ())),
            )
            for name, device in devices.items()
        },
        tuple(_cable_label(link, devices, notes, dense) for link in scheme.links),
    )


def marks_width(marks: tuple[tuple[Level, int], ...]) -> float:
    """Of shapes with their numbers and the spaces before them."""
    return sum(SPACE + MARK_SHAPE + 0.1 + width(str(number)) for _, number in marks)


def volts_words(volts: tuple[float | None, float]) -> str:
    """`12.03 V`, or `12.9 / 12.03 V` for mean and worst instant."""
    mean, worst = volts
    if mean is None and abs(worst) < 0.005:
        return "0 V"
    return f"{worst:.2f} V" if mean is None else f"{mean:.2f} / {worst:.2f} V"


def amps_words(amps: float) -> str:
    """`8.1 A`, `0.42 A`, `35 mA`: two or three figures."""
    if amps < 0.0005:
        return "0 A"
    if amps < 0.0995:
        return f"{1000.0 * amps:.0f} mA"
    return f"{amps:.2f} A" if amps < 0.995 else f"{amps:.1f} A"


def rating_words(device: Device) -> str:
    """What stands on its label: `100 Ah` of a store, `2 x 110 W` of panels, `1000 W`."""
    values = device.values
    capacity, power = values.get("capacity"), values.get("power", values.get("rating"))
    if device.kind == "storage" and _given(capacity):
        return f"{capacity / COULOMBS_PER_AH:.3g} Ah"
    if device.kind != "source" or not _given(power):
        return ""
    count = int(values.get("series", 1)) * int(values.get("parallel", 1))
    return f"{count} × {power:.4g} W" if count > 1 else f"{power:.4g} W"


def _given(value: object) -> TypeGuard[float]:
    return isinstance(value, int | float) and isfinite(value)


def _device_figures(device: Device, notes: Annotations) -> str:
    """Volts: of a converter those of each side, of a strip its feed, of others where they are."""
    names = [each.name for each in device.model.terminals if not isinstance(each, Ways)]
    seen = [notes.volts[key] for name in names if (key := f"{device.name}.{name}") in notes.volts]
    if device.kind == "source":
        return rating_words(device)
    if not seen:
        return rating_words(device)
    if device.kind != "converter":
        return ", ".join(each for each in (rating_words(device), volts_words(seen[0])) if each)
    return " → ".join(volts_words(each) for each in seen)


def _cable_label(
    link: Link, devices: dict[str, Device], notes: Annotations, dense: bool
) -> CableLabel:
    cable = link.cable
    amps = amps_words(notes.amps[cable.name]) if cable.name in notes.amps else ""
    size = cable_words(cable)
    over, under = size, amps
    if dense:
        over, under = ", ".join(each for each in (size, amps) if each), ""
    return CableLabel(
        over,
        under,
        notes.marks.get(cable.name, ()),
        _terminal_words(devices[link.left.device], link.left.terminal),
        _terminal_words(devices[link.right.device], link.right.terminal),
        fuse_words(link.fuse_at("left")),
        fuse_words(link.fuse_at("right")),
        alternating(devices[link.left.device], link.left.terminal),
    )


def cable_words(cable: Cable) -> str:
    """`1.5 m, 4 mm²`; what is not given is left out."""
    length = "" if cable.length_m is None else f"{cable.length_m:.3g} m"
    return shown(", ".join(each for each in (length, cable.wire.replace("mm2", "mm²")) if each))


def fuse_words(fuse: Fuse | None) -> str:
    """`10 A`, or ""."""
    return "" if fuse is None or not isfinite(fuse.rating_a) else f"{fuse.rating_a:g} A"


def _terminal_words(device: Device, terminal: str) -> str:
    """The terminal, where the device has more than one."""
    several = len(device.model.terminals) > 1 or isinstance(device.model.terminals[0], Ways)
    return shown(terminal) if several else ""
