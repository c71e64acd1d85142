"""A year at 55 degrees north through the whole chain: sky, plane, panel, controller, battery.

Held against the same year reckoned with pvlib and plain arithmetic (`chain_by_hand`).
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from outside.checks.chain_by_hand import (
    AIR_HIGH_C,
    AIR_LOW_C,
    ALPHA,
    BETA,
    FACING_DEG,
    I_MP,
    I_SC,
    TILT_DEG,
    V_MP,
    V_OC,
    HandYear,
    power_per_kelvin,
    year_by_hand,
)
from outside.checks.hourly_year import HOURLY, hourly_year, month_means, sky_table
from outside.checks.record import Record
from support.device_runs import amps_into, volts_at
from support.runs import solved, station_from_file

from copperpath.plugin_api import Mount

STATION = "Sand Point AK"
SOURCE = "TMY3 703165, its hourly file as shipped with pvlib 0.16.1, through pvlib and arithmetic"
STEP_S = 900.0
HOURS = (
    "by hand the light of an hour falls from where the sun stands at its middle; ours follows "
    "straight lines between hours in steps of a quarter: half a per cent at most"
)
FIT = (
    HOURS + "; and the two fit the label by other rules, a quarter of a per cent more in weak light"
)
OWN_AIR = (
    HOURS + "; by hand with the file's own air, ours with one day of 3 to 7 degC all year: "
    "0.4 % for each kelvin"
)
OTHER_SKY = (
    "Perez (1990) against Hay and Davies (1980): how the sky's light lies on a plane differs by "
    "up to 5 % between them (from memory)"
)


WINTER = (
    "in the darkest month Perez lays 7 % more of the sky's light on a steep plane than ours: he "
    "counts the bright band over the horizon, which Hay and Davies leave out"
)


def records() -> Iterator[Record]:
    """Month by month: light on the plane, from the panel, into the battery; then two other ways
    of reckoning, over the year."""
    plane, panel, battery = our_months()
    hand = _by_hand("haydavies", False)
    for word, ours, theirs, unit, share, why in (
        ("light on the plane", plane, hand.plane, "kWh/m2 a day", 0.005, HOURS),
        ("from the panel", panel, hand.panel, "kWh a day", 0.0075, FIT),
        ("into the battery", battery, hand.battery, "kWh a day", 0.0075, FIT),
    ):
        for month, (mine, other) in enumerate(zip(ours, month_means(theirs, 24), strict=True), 1):
            yield _record(f"month {month}, {word}", other, mine, unit, share, why)
    air = month_means(_by_hand("haydavies", True).panel, 24)
    perez = month_means(_by_hand("perez", False).plane, 24)
    for month in range(12):
        yield _record(
            f"month {month + 1}, from the panel in the file's own air",
            air[month],
            panel[month],
            "kWh a day",
            0.05,
            OWN_AIR,
        )
        yield _record(
            f"month {month + 1}, light on the plane by another sky",
            perez[month],
            plane[month],
            "kWh/m2 a day",
            0.05,
            OTHER_SKY,
            WINTER if month == 0 else "",
        )


def _record(
    claim: str,
    expected: float,
    ours: float,
    unit: str,
    share: float,
    why: str,
    disagrees: str = "",
) -> Record:
    return Record(
        claim=claim,
        expected=float(expected),
        ours=float(ours),
        unit=unit,
        tolerance=float(share * expected),
        why=why,
        source=SOURCE,
        obtained="computed from a reference library",
        disagrees=disagrees,
        at_most=0.08 * float(expected),
    )


def _by_hand(model: str, own_air: bool) -> HandYear:
    place = HOURLY[STATION]
    return year_by_hand(
        hourly_year(STATION),
        place.latitude_deg,
        place.longitude_deg,
        place.altitude_m,
        place.ahead_h,
        model,
        own_air,
    )


@lru_cache
def our_months() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Light on the plane [kWh/m² a day], from the panel and into the battery [kWh a day]."""
    place = HOURLY[STATION]
    text = f"""station "A year on the coast" {{
    place {place.words}
    starts 2025-01-01 00:00 {place.offset}
    lasts 8760 h
    sky "sky.csv"
    air {AIR_LOW_C:g} degC .. {AIR_HIGH_C:g} degC
    ground_reflects 20 %
}}
source panel : photovoltaic {{
    power {V_MP * I_MP:.6g} W; vmp {V_MP} V; voc {V_OC} V; isc {I_SC} A; imp {I_MP} A
    voc_coefficient {100 * BETA / V_OC:.6g} %/K; isc_coefficient {100 * ALPHA / I_SC:.6g} %/K
    power_coefficient {100 * power_per_kelvin():.5g} %/K
    nominal_cell_temperature 45 degC; efficiency 20 %
    mount {TILT_DEG:g} deg, south
}}
converter regulator : mppt_charger {{
    output_limit 40 A; max_input 60 V; efficiency 95 %; idle 12 mA; droop 1 mohm
}}
storage pack : lfp {{ capacity 60000 Ah; charge 30 %; temperature 25 degC; resistance 1 mohm }}
cable panel -> regulator.panel {{ length 0.1 m; wire 50 mm2 }}
cable regulator.battery -> pack {{ length 0.1 m; wire 50 mm2; fuse 60 A at pack }}
"""
    with TemporaryDirectory() as folder:
        sky = sky_table(hourly_year(STATION), place)
        (Path(folder) / "sky.csv").write_text(sky, encoding="utf-8")
        file = Path(folder) / "coast.station"
        file.write_text(text, encoding="utf-8")
        run = solved(station_from_file(file), STEP_S)
    site = run.problem.site
    plane = site.plane_irradiance(Mount(TILT_DEG, FACING_DEG))
    panel = -amps_into(run, "panel") * volts_at(run, "panel", "out")
    battery = amps_into(run, "pack") * volts_at(run, "pack", "line")
    a_day = round(86400.0 / STEP_S)
    return tuple(month_means(watts, a_day) for watts in (plane, panel, battery))
