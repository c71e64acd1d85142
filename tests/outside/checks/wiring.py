"""Rules of wiring: what a cable may carry, what it may lose, panels in the cold, fuses."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

from outside.checks.record import Record, numbered, origin

from copperpath.station import CableFacts
from copperpath.wiring.ampacity import ampacity_of, area_of_gauge
from copperpath.wiring.boat_formula import K, needed_area, smallest_gauge
from copperpath.wiring.protection import PANEL_BRIGHT
from copperpath.wiring.standard_fuses import BLADE
from copperpath_plugins.rules.fuse_sizes import CONTINUOUS
from copperpath_plugins.rules.line_drop import OTHER, RADIO
from copperpath_plugins.rules.panel_volts import code_factor

ZERO_C = 273.15
FOOT_M = 0.3048
TABLE = "ours is this table"
LARGER = "the printed chart is one size larger than its own formula here; ours keeps to the formula"
ROUNDED = "printed with one decimal, from a factor of the table"


def records() -> Iterator[Record]:
    """Ampacities, drops, panels, fuses."""
    yield from _building()
    yield from _craft()
    yield from _cord()
    yield from _drop()
    yield from _panels()
    yield from _fuses()


def amps(gauge: str, kind: str, stands_c: float, air_c: float = 30.0, cables: Any = None) -> float:
    """What a cable of a gauge may carry [A]."""
    facts = CableFacts(insulation_k=stands_c + ZERO_C, bundled=cables)
    cable: Any = SimpleNamespace(area_m2=area_of_gauge(int(gauge)), facts=facts)
    found = ampacity_of(cable, air_c + ZERO_C, kind)
    assert found is not None
    return found.amps


def _figure(
    claim: str,
    expected: float,
    ours: float,
    unit: str,
    row: dict[str, str],
    rows: Any,
    why: str = TABLE,
    share: float = 1e-9,
) -> Record:
    return Record(
        claim=claim,
        expected=expected,
        ours=ours,
        unit=unit,
        tolerance=share * expected,
        why=why,
        rows=rows,
        **origin(row),
    )


def _building() -> Iterator[Record]:
    for rows, row in numbered("ampacity_building.csv"):
        for column in (60, 75, 90):
            yield _figure(
                f"{row['awg']} AWG building wire, {column} degC",
                float(row[f"ampacity_{column}C_A"]),
                amps(row["awg"], "building", column),
                "A",
                row,
                rows,
            )
    for rows, row in numbered("ampacity_ambient.csv"):
        air = float(row["ambient_band_upper_C"])
        if air < 30.0:
            continue
        for column in (60, 75, 90):
            yield _figure(
                f"building wire of {column} degC in air up to {air:g} degC, factor",
                float(row[f"factor_{column}C"]),
                amps("10", "building", column, air) / amps("10", "building", column),
                "",
                row,
                rows,
            )


def _craft() -> Iterator[Record]:
    for rows, row in numbered("ampacity_marine.csv"):
        for column, cables, words in (
            ("outside_engine_space_A", None, "alone"),
            ("bundle_4_to_6_A", 2, "two cables together"),
            ("bundle_4_to_6_A", 3, "three cables together"),
            ("bundle_7_to_24_A", 4, "four cables together"),
            ("bundle_7_to_24_A", 12, "twelve cables together"),
        ):
            yield _figure(
                f"{row['awg']} AWG craft wire of 105 degC, {words}",
                float(row[column]),
                amps(row["awg"], "craft", 105.0, cables=cables),
                "A",
                row,
                rows,
                TABLE if cables is None else ROUNDED,
                1e-9 if cables is None else 0.005,
            )


def _cord() -> Iterator[Record]:
    for rows, row in numbered("ampacity_cord.csv"):
        stands = float(row["insulation_C"].partition("/")[0])
        yield _figure(
            f"{row['awg']} AWG cord of two, {stands:g} degC",
            float(row["conductors_2_A"]),
            amps(row["awg"], "cord", stands),
            "A",
            row,
            rows,
        )


def _drop() -> Iterator[Record]:
    for rows, row in numbered("voltage_drop.csv"):
        if row["rule"] == "boat wire-size formula":
            yield _figure("constant of the boat formula", 10.75, K, "ohm cmil/ft", row, rows)
        limits = {"critical circuits": RADIO, "other circuits": OTHER}
        if row["rule"] in limits:
            ours = 100.0 * limits[row["rule"]]
            yield _figure(row["rule"], float(row["limit_percent"]), ours, "%", row, rows)
    for rows, row in numbered("wire_size_chart_12v.csv"):
        volts = float(row["system_V"]) * float(row["drop_percent"]) / 100.0
        feet, current = float(row["round_trip_length_ft"]), float(row["current_A"])
        found = smallest_gauge(needed_area(current, feet * FOOT_M, volts))
        assert found is not None
        yield Record(
            claim=f"{feet:g} ft {current:g} A at 12 V, smallest size",
            expected=gauge_number(row["published_awg"]),
            ours=float(found),
            unit="AWG",
            tolerance=0.5,
            why="a size; 0 to -2 stand for 1/0 to 3/0",
            rows=rows,
            disagrees=LARGER if (feet, current) == (30.0, 90.0) else "",
            at_most=1.0,
            **origin(row),
        )


def gauge_number(written: str) -> float:
    """0 to -3 for 1/0 to 4/0."""
    count, mark, _ = written.partition("/0")
    return 1.0 - float(count) if mark else float(count)


def _panels() -> Iterator[Record]:
    for rows, row in numbered("panel_cold_voltage.csv"):
        for end in ("high", "low"):
            celsius = float(row[f"ambient_{end}_C"])
            yield _figure(
                f"open circuit in air of {celsius:g} degC, factor",
                float(row["voc_multiplier"]),
                code_factor(celsius),
                "",
                row,
                rows,
            )
    found = {
        "irradiance factor": (PANEL_BRIGHT, ""),
        "continuous-duty factor": (CONTINUOUS, ""),
        "combined": (PANEL_BRIGHT * CONTINUOUS, ""),
        "worked: Isc 9.0 A, maximum circuit current": (9.0 * PANEL_BRIGHT, "A"),
    }
    for rows, row in numbered("panel_current_factors.csv"):
        ours, unit = found[row["factor"]]
        yield _figure(f"panels, {row['factor']}", float(row["value"]), ours, unit, row, rows)


def _fuses() -> Iterator[Record]:
    found = {
        "breaking capacity": BLADE.interrupts_a,
        "continuous-load rule in building wiring": CONTINUOUS,
    }
    for rows, row in numbered("fuse_practice.csv"):
        if row["item"] in found:
            unit = row["unit"] if row["unit"] == "A" else ""
            yield _figure(row["item"], float(row["value"]), found[row["item"]], unit, row, rows)
