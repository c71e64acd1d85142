"""Standard wire sizes, and a cable in another size."""

from __future__ import annotations

from dataclasses import replace

from copperpath.build.wire_sizes import (
    Conductor,
    area_conductor,
    at_temperature,
    clad,
    gauge_conductor,
)
from copperpath.plugin_api.inquiry import CableView
from copperpath.station import Cable

METRIC_MM2 = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0)
"""Nominal areas of IEC 60228 that are sold as flexible wire."""

GAUGES = (24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3)
"""Gauges that are sold as hook-up and battery wire, 0 to -3 for 1/0 to 4/0: common practice, no
source."""

INSULATION = 1.6
"""Mass of a wire with its insulation over that of its copper: from memory."""


def conductor_of(name: str, *, solid: bool = False, copper_clad: bool = False) -> Conductor:
    """The conductor of a size as people write it, `6 mm2` or `10 AWG`.

    Raises
    ------
    ValueError
        If the name is no size.
    """
    number, _, unit = name.partition(" ")
    if unit == "AWG":
        gauge = 1.0 - float(number[:-2]) if number.endswith("/0") else float(number)
        found = gauge_conductor(gauge, solid=solid)
    elif unit == "mm2":
        found = area_conductor(float(number), solid=solid)
    else:
        raise ValueError(name)
    return clad(found) if copper_clad else found


def series_of(name: str) -> tuple[str, ...]:
    """All standard sizes in the system of one, the smallest first."""
    if name.endswith("AWG"):
        return tuple(f"{g} AWG" if g > 0 else f"{1 - g}/0 AWG" for g in GAUGES)
    return tuple(f"{area:g} mm2" for area in METRIC_MM2)


def larger_sizes(cable: CableView) -> tuple[str, ...]:
    """Standard sizes with more copper than a cable has, the smallest first."""
    if cable.area_m2 is None:
        return ()
    area = cable.area_m2 * (1.0 + 1e-9)
    return tuple(name for name in series_of(cable.wire) if conductor_of(name).area_m2 > area)


def resized(cable: Cable, size: str) -> Cable:
    """A cable with wire of another size, as long and as warm as it was."""
    conductor = conductor_of(size, solid=cable.solid, copper_clad=cable.facts.copper_clad)
    length = cable.length_m
    if length is None:
        return replace(cable, wire=conductor.name, area_m2=conductor.area_m2)
    ohm = at_temperature(2.0 * length * conductor.ohm_per_m, cable.copper_k)
    mass = 2.0 * conductor.density * conductor.area_m2 * length * INSULATION
    return replace(
        cable, wire=conductor.name, area_m2=conductor.area_m2, wire_ohm=ohm, mass_kg=mass
    )


def relaid(cable: Cable, length_m: float) -> Cable:
    """A cable of another length, one way [m]."""
    if not cable.length_m:
        return replace(cable, length_m=length_m)
    share = length_m / cable.length_m
    mass = None if cable.mass_kg is None else cable.mass_kg * share
    return replace(cable, length_m=length_m, wire_ohm=cable.wire_ohm * share, mass_kg=mass)
