"""Copper conductors: resistance and area of a wire by its gauge or its nominal area.

Sources, beside their numbers below; what is from memory says so. Not here: what a cable adds
(both conductors, fuse, joints); see `cables`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

RESISTIVITY = 1.7241e-8
"""Annealed copper at 20 °C, 100 % IACS [ohm m]: IEC 60028."""

PER_KELVIN = 0.00393
"""Change of resistance, referred to 20 °C [1/K]: IEC 60028, constant mass."""

DENSITY = 8960.0
"""Copper [kg/m³]; from memory (IEC 60028 rounds to 8890)."""

CLAD_RESISTANCE = 1.6
CLAD_DENSITY = 3330.0
"""Copper-clad aluminium against copper of the same size: 1.6 times the resistance, common practice,
no source; its density [kg/m³] reckoned from 10 % of the area copper (8960) and 90 % aluminium
(2700), from memory."""

STRANDING = 1.02
"""Flexible against solid at the same gauge: strands run in a helix, longer than the wire. NFPA 70
chapter 9 table 8 gives 7-strand 1.023 times solid at 18 and 14 AWG."""

THINNEST_GAUGE = 40
THICKEST_GAUGE = -3
"""4/0 AWG; ASTM B258 counts 0, 00, 000, 0000 as 0, -1, -2, -3."""

FLEXIBLE_OHM_PER_KM = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
    35.0: 0.554,
    50.0: 0.386,
    70.0: 0.272,
    95.0: 0.206,
    120.0: 0.161,
}
"""Most resistance at 20 °C of plain class 5 copper by nominal mm²: IEC 60228:2004; the rows above
25 mm² from memory."""

SOLID_OHM_PER_KM = {
    0.5: 36.0,
    0.75: 24.5,
    1.0: 18.1,
    1.5: 12.1,
    2.5: 7.41,
    4.0: 4.61,
    6.0: 3.08,
    10.0: 1.83,
    16.0: 1.15,
    25.0: 0.727,
    35.0: 0.524,
    50.0: 0.387,
    70.0: 0.268,
    95.0: 0.193,
    120.0: 0.153,
}
"""The same of class 1 and 2 copper; the rows above 25 mm² from memory."""

LARGEST_READ_MM2 = 25.0
SMALLEST_MM2 = 0.05
LARGEST_MM2 = 120.0


@dataclass(frozen=True, slots=True)
class Conductor:
    """One conductor: ohm for each metre at 20 °C, its metal, and what was assumed ("" nothing)."""

    name: str
    ohm_per_m: float
    area_m2: float
    assumed: str = ""
    density: float = DENSITY


class NoSuchSize(Exception):
    """A size beyond the tables; the text says what to write instead."""


def gauge_conductor(gauge: float, *, solid: bool) -> Conductor:
    """A wire of the American gauge: d = 0.127 mm * 92^((36 - n) / 39), ASTM B258.

    Parameters
    ----------
    gauge : float
        Number of the scale, 0 to -3 for 1/0 to 4/0.

    Raises
    ------
    NoSuchSize
        If the scale has no such number.

    Examples
    --------
    >>> round(1e3 * gauge_conductor(14, solid=True).ohm_per_m, 3)
    8.286
    """
    if gauge != round(gauge) or not THICKEST_GAUGE <= gauge <= THINNEST_GAUGE:
        raise NoSuchSize("gauges are whole numbers from 4/0 AWG (thick) to 40 AWG (thin)")
    diameter_m = 0.127e-3 * 92.0 ** ((36.0 - gauge) / 39.0)
    area = 0.25 * math.pi * diameter_m**2
    factor = 1.0 if solid else STRANDING
    number = f"{gauge:.0f}" if gauge > 0 else f"{1 - gauge:.0f}/0"
    return Conductor(f"{number} AWG", RESISTIVITY / area * factor, area)


def area_conductor(area_mm2: float, *, solid: bool) -> Conductor:
    """A wire by its nominal area: the most resistance that IEC 60228 allows.

    Between two listed sizes the resistance follows a straight line over one divided by the area.

    Raises
    ------
    NoSuchSize
        If the area is beyond the tables.

    Examples
    --------
    >>> area_conductor(1.5, solid=False).ohm_per_m
    0.0133
    """
    table = SOLID_OHM_PER_KM if solid else FLEXIBLE_OHM_PER_KM
    sizes = tuple(table)
    if not SMALLEST_MM2 <= area_mm2 <= LARGEST_MM2:
        raise NoSuchSize(
            f"sizes from {SMALLEST_MM2:g} to {LARGEST_MM2:g} mm2 are known; the nearest listed one "
            f"is {sizes[0] if area_mm2 < SMALLEST_MM2 else sizes[-1]:g} mm2"
        )
    name = f"{area_mm2:g} mm2"
    area = area_mm2 * 1e-6
    listed = next((size for size in sizes if math.isclose(size, area_mm2, rel_tol=1e-9)), None)
    if listed is not None:
        beyond = listed > LARGEST_READ_MM2
        assumed = "resistance as IEC 60228 allows at most, from memory" if beyond else ""
        return Conductor(name, table[listed] * 1e-3, area, assumed)
    if area_mm2 < sizes[0]:
        ohm = table[sizes[0]] * sizes[0] / area_mm2
        assumed = f"not in IEC 60228; reckoned from {sizes[0]:g} mm2 by its area"
        return Conductor(name, ohm * 1e-3, area, assumed)
    below = max(size for size in sizes if size < area_mm2)
    above = min(size for size in sizes if size > area_mm2)
    way = (1.0 / area_mm2 - 1.0 / below) / (1.0 / above - 1.0 / below)
    ohm = table[below] + way * (table[above] - table[below])
    assumed = f"not in IEC 60228; reckoned between {below:g} mm2 and {above:g} mm2"
    return Conductor(name, ohm * 1e-3, area, assumed)


def clad(conductor: Conductor) -> Conductor:
    """The same size in copper-clad aluminium.

    Examples
    --------
    >>> round(1e3 * clad(area_conductor(1.5, solid=False)).ohm_per_m, 2)
    21.28
    """
    return replace(conductor, ohm_per_m=CLAD_RESISTANCE * conductor.ohm_per_m, density=CLAD_DENSITY)


def at_temperature(ohm: float, kelvin: float) -> float:
    """A resistance at 20 °C brought to another temperature of the copper [ohm].

    Examples
    --------
    >>> round(at_temperature(1.0, 348.15), 4)
    1.2161
    """
    return ohm * (1.0 + PER_KELVIN * (kelvin - 293.15))
