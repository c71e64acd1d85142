"""Copper conductors by gauge and by area, cold and warm.

Published tables are rounded to three or four figures; their tolerances are that rounding.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from outside.checks.record import Record, band, numbered, origin

from copperpath.build.wire_sizes import (
    DENSITY,
    PER_KELVIN,
    RESISTIVITY,
    area_conductor,
    at_temperature,
    gauge_conductor,
)

FOOT = 0.3048
INCH = 0.0254
CIRCULAR_MIL_M2 = math.pi / 4.0 * (1e-3 * INCH) ** 2
ZERO_C = 273.15


def records() -> Iterator[Record]:
    """Gauges, hot gauges, metric sizes, warmth, constants."""
    yield from _gauges()
    yield from _hot()
    yield from _metric()
    yield from _warmth()
    yield from _constants()
    yield from _chart()


def _gauges() -> Iterator[Record]:
    for rows, row in numbered("wire_gauge.csv"):
        wire = gauge_conductor(float(row["awg"]), solid=True)
        diameter = 2.0 * math.sqrt(wire.area_m2 / math.pi) / INCH
        ohm = wire.ohm_per_m * 1000.0 * FOOT
        for claim, key, ours, unit, share, why in (
            ("diameter", "diameter_in", diameter, "in", 4e-4, "printed to 0.00001 in"),
            (
                "area",
                "area_circular_mil",
                wire.area_m2 / CIRCULAR_MIL_M2,
                "cmil",
                6e-4,
                "worked out from the printed diameter, its rounding squared",
            ),
            (
                "resistance, solid",
                "r20_ohm_per_kft_solid",
                ohm,
                "ohm/kft",
                1.2e-3,
                "four figures, and the rounding of the diameter squared",
            ),
        ):
            expected = float(row[key])
            yield Record(
                claim=f"{row['awg']} AWG {claim}",
                expected=expected,
                ours=ours,
                unit=unit,
                tolerance=share * expected,
                why=why,
                rows=rows,
                **origin(row),
            )


def _hot() -> Iterator[Record]:
    for rows, row in numbered("wire_hot.csv"):
        wire = gauge_conductor(float(row["awg"]), solid=row["stranding"] == "solid")
        expected = float(row["r75_ohm_per_km"])
        yield Record(
            claim=f"{row['awg']} AWG {row['stranding']}, 75 degC",
            expected=expected,
            ours=at_temperature(wire.ohm_per_m, 75.0 + ZERO_C) * 1000.0,
            unit="ohm/km",
            tolerance=8e-3 * expected,
            why="printed with three figures; its strands take 2 to 2.5 % where ours take 2 %",
            rows=rows,
            **origin(row),
        )


def _metric() -> Iterator[Record]:
    for rows, row in numbered("wire_metric.csv"):
        solid = row["class"] == "1 and 2"
        wire = area_conductor(float(row["nominal_mm2"]), solid=solid)
        expected = float(row["r20_max_ohm_per_km"])
        yield Record(
            claim=f"{row['nominal_mm2']} mm2 class {row['class']}",
            expected=expected,
            ours=wire.ohm_per_m * 1000.0,
            unit="ohm/km",
            tolerance=1e-9 * expected,
            why="ours is this table; rounding of the machine",
            rows=rows,
            **origin(row),
        )


def _warmth() -> Iterator[Record]:
    for rows, row in numbered("wire_temperature.csv"):
        expected = float(row["factor_to_20_degC"])
        yield Record(
            claim=f"factor from {row['conductor_degC']} to 20 degC",
            expected=expected,
            ours=1.0 / at_temperature(1.0, float(row["conductor_degC"]) + ZERO_C),
            unit="",
            tolerance=4e-3 * expected,
            why="the annex takes 0.004 a kelvin, copper of the same standards 0.00393: 0.4 %",
            rows=rows,
            **origin(row),
        )


EXACT = "a definition; rounding of the machine"


def _constants() -> Iterator[Record]:
    wire = gauge_conductor(10.0, solid=True)
    thinner = gauge_conductor(11.0, solid=True)
    per_75 = PER_KELVIN / at_temperature(1.0, 75.0 + ZERO_C)
    zero_c = 20.0 - 1.0 / PER_KELVIN
    # Circular mils and feet of a wire whose resistance is known.
    constant = RESISTIVITY / CIRCULAR_MIL_M2 * FOOT
    found = {
        "resistivity at 20 degC": (RESISTIVITY, 1e-12, EXACT),
        "conductivity 100 % IACS at 20 C": (
            1.0 / RESISTIVITY,
            3e-5,
            "the resistivity is printed with five figures",
        ),
        "mass resistivity at 20 C": (
            RESISTIVITY * DENSITY * 1e3,
            0.01,
            "8960 kg/m3, as of pure copper, where the standard has 8890; only for the mass",
        ),
        "density at 20 degC": (
            DENSITY / 1e3,
            0.01,
            "8960 kg/m3, as of pure copper, where the standard has 8890; only for the mass",
        ),
        "temperature coefficient at 20 degC": (PER_KELVIN, 1e-12, EXACT),
        "temperature coefficient at 75 degC": (per_75, 2e-3, "printed with three figures"),
        "inferred zero-resistance temperature": (zero_c, 4e-4, "printed with four figures"),
        "ratio of successive AWG diameters": (
            math.sqrt(wire.area_m2 / thinner.area_m2),
            1e-5,
            "printed with six figures",
        ),
        "boat-wiring resistivity constant K": (
            constant * (1.0 + PER_KELVIN * 9.0),
            3e-3,
            "ours at 29 degC, where the source's constant is that of copper",
        ),
        "shop rule-of-thumb K for wire at code temperature": (
            constant * (1.0 + PER_KELVIN * 62.0),
            5e-3,
            "ours at 82 degC, where that constant is the one of copper; three figures",
        ),
    }
    for rows, row in numbered("copper.csv"):
        if row["quantity"] == "AWG diameter rule":
            # 36 AWG is 0.0050 in and 4/0 AWG 0.4600 in.
            for gauge, name, inch in ((36.0, "36", 0.005), (-3.0, "4/0", 0.46)):
                made = gauge_conductor(gauge, solid=True)
                yield Record(
                    claim=f"{name} AWG diameter by the rule",
                    expected=inch,
                    ours=2.0 * math.sqrt(made.area_m2 / math.pi) / INCH,
                    unit="in",
                    tolerance=1e-9 * inch,
                    why=EXACT,
                    rows=rows,
                    **origin(row),
                )
            continue
        ours, share, why = found[row["quantity"]]
        expected = float(row["value"])
        yield Record(
            claim=row["quantity"].replace(" C", " degC"),
            expected=expected,
            ours=ours,
            unit=row["unit"].replace("C", "degC") if row["unit"] == "C" else row["unit"],
            tolerance=share * abs(expected),
            why=why,
            rows=rows,
            **origin(row),
        )


def _chart() -> Iterator[Record]:
    """The printed size of the 12 V chart loses no more than 3 % by our copper, at the 29 degC of
    its constant; a size that is chosen is the business of rules, not of this."""
    for rows, row in numbered("wire_size_chart_12v.csv"):
        awg = row["published_awg"]
        gauge = 1.0 - float(awg.removesuffix("/0")) if awg.endswith("/0") else float(awg)
        ohm = at_temperature(gauge_conductor(gauge, solid=True).ohm_per_m, 29.0 + ZERO_C)
        length, amps = float(row["round_trip_length_ft"]), float(row["current_A"])
        lost = 100.0 * ohm * length * FOOT * amps / float(row["system_V"])
        yield Record(
            claim=f"{length:g} ft {amps:g} A on {awg} AWG, loss",
            **band(0.0, 3.03),
            ours=lost,
            unit="% of 12 V",
            why="the printed size may lose up to 3 %, by one part in a hundred more as the chart "
            "rounds circular mils",
            rows=rows,
            **origin(row),
        )
