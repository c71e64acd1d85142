"""Measured light: months of hourly files through the engine's own reading of measured light.

The hourly values are means that end at their stamp; they stand in the engine's table at the middle
of their hour.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from outside.checks.hourly_year import HOURLY, hourly_year, month_means, sky_table
from outside.checks.record import Record, numbered, origin
from support.building import station_of

from copperpath.site import Site, station_site

PARTS = (("ghi", "level", "level"), ("dni", "beam", "beam"), ("dhi", "diffuse", "rest of the sky"))
ROUNDED = "three decimals; the step's middle is the row's time, so nothing is smoothed here"


def records() -> Iterator[Record]:
    """Each month of the two stations whose hourly files come with pvlib; what the sky reflects
    from the ground."""
    for rows, row in numbered("monthly_light.csv"):
        if row["station"] not in HOURLY:
            continue
        ours = _months(row["station"])
        month = int(row["month"])
        for key, part, word in PARTS:
            expected = float(row[f"{key}_kWh_m2_day"])
            yield Record(
                claim=f"{row['station']}, month {month}, {word}",
                expected=expected,
                ours=float(ours[part][month - 1]),
                unit="kWh/m2 a day",
                tolerance=0.0006,
                why=ROUNDED,
                rows=rows,
                **origin(row),
            )
    yield from _ground()


@lru_cache
def _months(station: str) -> dict[str, np.ndarray]:
    site = measured_site(station)
    assert site.light is not None
    return {part: month_means(getattr(site.light, part), 24) for _, part, _ in PARTS}


def measured_site(station: str) -> Site:
    """The place under its hourly file, in steps of an hour."""
    place = HOURLY[station]
    with TemporaryDirectory() as folder:
        (Path(folder) / "sky.csv").write_text(sky_table(hourly_year(station), place), "utf-8")
        built = station_of(
            f"""station "A year of hours" {{
    place {place.words}
    starts 2025-01-01 00:00 {place.offset}
    lasts 8760 h
    sky "sky.csv"
    air 0 degC .. 10 degC
}}
storage pack : lfp {{ capacity 12 Ah }}
load lamp : steady {{ power 1 W }}
cable pack -> lamp {{ length 1 m; wire 1.5 mm2; fuse 3 A at pack }}
""",
            Path(folder),
        )
    return station_site(built, 3600.0)


def _ground() -> Iterator[Record]:
    from support.building import SMALL

    small = station_of(SMALL)
    usual = small.site.ground_reflects
    (basis,) = (each.basis for each in small.assumptions if each.parameter == "ground_reflects")
    quoted = {word: float(figure) for word, figure in re.findall(r"(\w+) (0\.\d+)", basis)}
    for rows, row in numbered("ground_reflection.csv"):
        if row["surface"] in quoted:
            # Grass is what is taken; the others stand in the words that say so.
            grass = row["surface"] == "grass"
            yield Record(
                claim=f"{row['surface']} reflects",
                expected=float(row["albedo"]),
                ours=usual if grass else quoted[row["surface"]],
                unit="",
                tolerance=1e-9,
                why="ours is this figure",
                rows=rows,
                **origin(row),
            )
