"""Published ampacities of copper conductors, by table. Numbers only; `ampacity` applies them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AmpacityTable:
    """Amps by gauge number (0 to -3 for 1/0 to 4/0) at an ambient temperature.

    `name` is as a report says it, `insulation_c` the temperature its insulation stands [°C].
    """

    name: str
    source: str
    insulation_c: float
    ambient_c: float
    amps: Mapping[int, float]


CRAFT_105 = AmpacityTable(
    "craft wiring, 105 degC insulation",
    "33 CFR 183.425 table 5, also ABYC E-11; above 2 AWG from memory",
    105.0,
    30.0,
    {18: 20, 16: 25, 14: 35, 12: 45, 10: 60, 8: 80, 6: 120, 4: 160, 3: 180, 2: 210}
    | {1: 245, 0: 285, -1: 330, -2: 385, -3: 445},
)
"""Single conductors in free air outside engine spaces, at most two bundled."""

CRAFT_BUNDLE = ((2, 1.0), (3, 0.7), (6, 0.6), (24, 0.5), (500, 0.4))
"""Factor by the most conductors that lie together: 33 CFR 183.425; over 24 from memory."""

BUILDING = {
    60: AmpacityTable(
        "building wire, 60 degC column",
        "NEC table 310.16; above 2 AWG from memory",
        60.0,
        30.0,
        {14: 15, 12: 20, 10: 30, 8: 40, 6: 55, 4: 70, 3: 85, 2: 95}
        | {1: 110, 0: 125, -1: 145, -2: 165, -3: 195},
    ),
    75: AmpacityTable(
        "building wire, 75 degC column",
        "NEC table 310.16; above 2 AWG from memory",
        75.0,
        30.0,
        {14: 20, 12: 25, 10: 35, 8: 50, 6: 65, 4: 85, 3: 100, 2: 115}
        | {1: 130, 0: 150, -1: 175, -2: 200, -3: 230},
    ),
    90: AmpacityTable(
        "building wire, 90 degC column",
        "NEC table 310.16; above 2 AWG and below 14 AWG from memory",
        90.0,
        30.0,
        {18: 14, 16: 18, 14: 25, 12: 30, 10: 40, 8: 55, 6: 75, 4: 95, 3: 115, 2: 130}
        | {1: 145, 0: 170, -1: 195, -2: 225, -3: 260},
    ),
}
"""At most three current-carrying conductors in a raceway, a cable or the earth."""

BUILDING_BUNDLE = ((3, 1.0), (6, 0.8), (9, 0.7), (20, 0.5), (30, 0.45), (40, 0.4), (500, 0.35))
"""Factor by the most current-carrying conductors: NEC table 310.15(C)(1), from memory."""

AMBIENT_BANDS_C = (10, 15, 20, 25, 30, 35, 40, 45, 50, 55)
AMBIENT_FACTORS = {
    60: (1.29, 1.22, 1.15, 1.08, 1.0, 0.91, 0.82, 0.71, 0.58, 0.41),
    75: (1.20, 1.15, 1.11, 1.05, 1.0, 0.94, 0.88, 0.82, 0.75, 0.67),
    90: (1.15, 1.12, 1.08, 1.04, 1.0, 0.96, 0.91, 0.87, 0.82, 0.76),
}
"""Factor by the upper end of a band of air temperature [°C]: NEC table 310.15(B)(1)."""

CORD_90 = AmpacityTable(
    "flexible cord, two conductors, 90 degC",
    "NEC table 400.5(B); below 8 AWG table 400.5(A) from memory",
    90.0,
    30.0,
    {18: 10, 16: 13, 14: 18, 12: 25, 10: 30, 8: 74, 6: 99, 4: 130, 2: 174},
)
CORD_75 = AmpacityTable(
    "flexible cord, two conductors, 75 degC",
    "NEC table 400.5(B); below 8 AWG table 400.5(A) from memory",
    75.0,
    30.0,
    {18: 10, 16: 13, 14: 18, 12: 25, 10: 30, 8: 65, 6: 88, 4: 115, 2: 152},
)
CORD_60 = AmpacityTable(
    "flexible cord, two conductors, 60 degC",
    "NEC table 400.5(B); below 4 AWG table 400.5(A) from memory",
    60.0,
    30.0,
    {18: 10, 16: 13, 14: 18, 12: 25, 10: 30, 8: 40, 6: 55, 4: 96, 2: 128},
)
