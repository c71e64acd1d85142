"""What a cable may carry: a named table, brought to its size, its air and its bundle.

Local codes decide; these are the tables that a file can name. Without a word of the file a cable
counts as craft wiring with insulation for 60 °C, which is the least that is sold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from copperpath.plugin_api.inquiry import Ampacity, CableView
from copperpath.wiring.ampacity_tables import (
    AMBIENT_BANDS_C,
    AMBIENT_FACTORS,
    BUILDING,
    BUILDING_BUNDLE,
    CORD_60,
    CORD_75,
    CORD_90,
    CRAFT_105,
    CRAFT_BUNDLE,
    AmpacityTable,
)

KINDS = ("craft", "building", "cord")

USUAL_INSULATION_C = 60.0
"""Where the file does not say what the insulation stands [°C]: the least that is sold."""

CLAD_SHARE = 0.79
"""Copper-clad aluminium against copper: square root of one over 1.6, as it gets as warm by 1.6
times the heat."""

CELSIUS = 273.15


def ampacity_of(cable: CableView, air_high_k: float, kind: str = "craft") -> Ampacity | None:
    """The most current that a cable may carry for hours [A]; None if its size is not known.

    Parameters
    ----------
    cable : CableView
    air_high_k : float
        The warmest air around it [K].
    kind : str
        One of `KINDS`.
    """
    if cable.area_m2 is None:
        return None
    insulation = cable.facts.insulation_k
    stands = USUAL_INSULATION_C if insulation is None else insulation - CELSIUS
    table = table_for(kind, stands)
    base = amps_for_area(table, cable.area_m2)
    warm, warm_words = _ambient(table, stands, kind, max(air_high_k - CELSIUS, 30.0))
    together = cable.facts.bundled
    conductors = 2 if together is None else 2 * together
    bundle = _banded(CRAFT_BUNDLE if kind == "craft" else BUILDING_BUNDLE, conductors)
    amps = base * warm * bundle * (CLAD_SHARE if cable.facts.copper_clad else 1.0)
    words = [table.name]
    if warm != 1.0:
        words.append(warm_words + (", as the file gives none" if insulation is None else ""))
    if bundle != 1.0:
        words.append(f"times {bundle:g} for {conductors} conductors together")
    if cable.facts.copper_clad:
        words.append(f"times {CLAD_SHARE:g} for copper-clad aluminium")
    return Ampacity(amps, f"{table.name} ({table.source})", ", ".join(words))


def table_for(kind: str, insulation_c: float) -> AmpacityTable:
    """The table of a kind of wiring whose insulation is the nearest not above the given one."""
    if kind == "craft":
        return CRAFT_105
    if kind == "cord":
        return CORD_90 if insulation_c >= 90 else CORD_75 if insulation_c >= 75 else CORD_60
    column = max((each for each in BUILDING if each <= insulation_c + 1e-6), default=60)
    return BUILDING[column]


def amps_for_area(table: AmpacityTable, area_m2: float) -> float:
    """Amps for a conductor, by straight lines over the logarithms of area and amps; beyond the
    table's ends with the slope there.

    Examples
    --------
    >>> round(amps_for_area(CRAFT_105, area_of_gauge(14)), 6)
    35.0
    """
    gauges = sorted(table.amps, reverse=True)
    areas = [math.log(area_of_gauge(gauge)) for gauge in gauges]
    amps = [math.log(table.amps[gauge]) for gauge in gauges]
    wanted = math.log(area_m2)
    place = min(max(sum(area < wanted for area in areas), 1), len(areas) - 1)
    low, high = areas[place - 1], areas[place]
    way = (wanted - low) / (high - low)
    return math.exp(amps[place - 1] + way * (amps[place] - amps[place - 1]))


def area_of_gauge(gauge: int) -> float:
    """Copper of a gauge [m²]: ASTM B258."""
    diameter_m: float = 0.127e-3 * 92.0 ** ((36.0 - gauge) / 39.0)
    return 0.25 * math.pi * diameter_m**2


def _ambient(table: AmpacityTable, stands_c: float, kind: str, air_c: float) -> tuple[float, str]:
    """Factor for the air, and for an insulation that stands less than the table's: the root of
    the share of the warming that is left (NEC 310.15(B), equation 310.15(B))."""
    if kind == "building" and stands_c >= table.insulation_c and air_c <= 55.0:
        rows = list(zip(AMBIENT_BANDS_C, AMBIENT_FACTORS[int(table.insulation_c)], strict=True))
        return _banded(rows, air_c), f"air of {air_c:.0f} degC"
    allowed = min(stands_c, table.insulation_c)
    share = max(allowed - air_c, 0.0) / (table.insulation_c - table.ambient_c)
    return math.sqrt(share), f"insulation for {allowed:.0f} degC in air of {air_c:.0f} degC"


def _banded(rows: Sequence[tuple[float, float]], value: float) -> float:
    """The factor of the first band that reaches up to a value; of the last one beyond."""
    return next((factor for top, factor in rows if value <= top + 1e-9), rows[-1][1])
