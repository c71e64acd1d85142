"""Light of the clear sky at noon and over months, with the sun low in winter."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from functools import lru_cache

import numpy as np
from outside.checks.record import Record, band, numbered, origin

from copperpath.site import Site, make_site
from copperpath.station import ClearSky, SiteSettings

HANDBOOK = (
    "two clear-sky models, each with its own monthly haze of the place: 10 % in the beam and a "
    "quarter of the rest of the sky's light is how far such models usually lie apart (from memory)"
)
LOW_SUN = (
    "the printed noon of January and November is that of a sun lower than it stands at noon: the "
    "handbook's own formula with the same optical depths gives our beam within 2 % at its height"
)
LITTLE_SKY_LIGHT = (
    "our clear sky leaves the rest of the sky little more than half of the handbook's light when "
    "the sun is low in clean air; which of the two is nearer was not measured"
)
HAZE = (
    "the map of monthly haze that our clear sky takes has hazier air over this place from May to "
    "September than the handbook's figures"
)
DARK_MONTHS = (
    "at noon heights under about 6 degrees the recorded light of the month exceeds our clear sky: "
    "neither is truth there; all the light of such a month is 0.05 to 0.26 kWh/m2 a day"
)
NOONS_THAT_DIFFER = {
    (1, "beam, printed"): LOW_SUN,
    (11, "beam, printed"): LOW_SUN,
    (7, "beam, printed"): HAZE,
    (9, "beam, printed"): HAZE,
    (5, "beam, formula"): HAZE,
    (7, "beam, formula"): HAZE,
    (9, "beam, formula"): HAZE,
    (1, "level light, formula"): LITTLE_SKY_LIGHT,
    (11, "level light, formula"): LITTLE_SKY_LIGHT,
    **{
        (month, f"rest of the sky, {which}"): LITTLE_SKY_LIGHT
        for month in (1, 3, 11)
        for which in ("printed", "formula")
    },
}
MONTHS_THAT_DIFFER = (("Fairbanks AK", 1), ("Fairbanks AK", 11), ("Fairbanks AK", 12))


def records() -> Iterator[Record]:
    """The handbook's noons, then months that no clear sky may fall short of."""
    yield from _noons()
    yield from _months()


def _site(row: dict[str, str], starts: datetime, hours: float, step_s: float) -> Site:
    return make_site(
        SiteSettings(
            latitude_deg=float(row["lat_deg"]),
            longitude_deg=float(row["lon_deg"]),
            altitude_m=float(row["elev_m"]),
            starts=starts,
            lasts_s=hours * 3600.0,
            sky=ClearSky(1.0, {}),
            air_low_k=270.0,
            air_high_k=280.0,
            ground_reflects=0.2,
            repeats=False,
        ),
        step_s,
    )


def _noons() -> Iterator[Record]:
    for rows, row in numbered("clear_sky_noon.csv"):
        zone = timezone(timedelta(hours=float(row["lon_deg"]) / 15.0))
        starts = datetime(2025, int(row["month"]), int(row["day"]), 11, tzinfo=zone)
        site = _site(row, starts, 2.0, 60.0)
        assert site.sun is not None
        assert site.light is not None
        noon = int(np.argmax(site.sun.apparent_elevation_deg))
        height = float(site.sun.apparent_elevation_deg[noon])
        beam, rest = float(site.light.beam[noon]), float(site.light.diffuse[noon])
        level = float(site.light.level[noon])
        month = int(row["month"])
        printed = (
            float(row["clear_noon_beam_normal_W_m2"]),
            float(row["clear_noon_diffuse_horizontal_W_m2"]),
        )
        beyond = float(site.sun.beyond_air[noon])
        formula = handbook(height, beyond, float(row["taub"]), float(row["taud"]))
        rise = np.sin(np.radians(height))
        for which, (their_beam, their_rest) in (("printed", printed), ("formula", formula)):
            for word, theirs, ours, share in (
                (f"beam, {which}", their_beam, beam, 0.10),
                (f"rest of the sky, {which}", their_rest, rest, 0.25),
                (f"level light, {which}", their_rest + their_beam * rise, level, 0.10),
            ):
                yield Record(
                    claim=f"noon of 21 {starts:%B}, 64.8 N, {word}",
                    expected=float(theirs),
                    ours=ours,
                    unit="W/m2",
                    tolerance=share * float(theirs),
                    why=HANDBOOK,
                    rows=rows,
                    disagrees=NOONS_THAT_DIFFER.get((month, word), ""),
                    at_most=0.6 * float(theirs),
                    **origin(row),
                )


def handbook(height_deg: float, beyond: float, beam: float, rest: float) -> tuple[float, float]:
    """Beam across its rays and the rest of the sky's light on the level [W/m²], by the handbook's
    formula from two optical depths and the sun's height as seen."""
    air = 1.0 / (np.sin(np.radians(height_deg)) + 0.50572 * (6.07995 + height_deg) ** -1.6364)
    to_beam = 1.454 - 0.406 * beam - 0.268 * rest + 0.021 * beam * rest
    to_rest = 0.507 + 0.205 * beam - 0.080 * rest - 0.190 * beam * rest
    return (
        float(beyond * np.exp(-beam * air**to_beam)),
        float(beyond * np.exp(-rest * air**to_rest)),
    )


@lru_cache
def _clear_year(latitude: str, longitude: str, height: str) -> np.ndarray:
    """Light of the clear sky on the level by month [kWh/m² a day], and beyond the air."""
    zone = timezone(timedelta(hours=round(float(longitude) / 15.0)))
    row = {"lat_deg": latitude, "lon_deg": longitude, "elev_m": height}
    site = _site(row, datetime(2025, 1, 1, tzinfo=zone), 365 * 24.0, 600.0)
    assert site.light is not None
    assert site.sun is not None
    clock = site.middle_s + zone.utcoffset(None).total_seconds()
    months = (clock * 1e3).astype("datetime64[ms]").astype("datetime64[M]").astype(int) % 12
    upright = np.maximum(np.cos(np.radians(site.sun.zenith_deg)), 0.0)
    days = np.bincount(months) / 144.0
    return np.array(
        [
            np.bincount(months, values) / 6000.0 / days
            for values in (site.light.level, site.sun.beyond_air * upright)
        ]
    )


def _months() -> Iterator[Record]:
    for rows, row in numbered("monthly_light.csv"):
        clear, beyond = _clear_year(row["lat_deg"], row["lon_deg"], row["elev_m"])
        month = int(row["month"]) - 1
        level = float(row["ghi_kWh_m2_day"])
        share = level / clear[month]
        differs = (row["station"], month + 1) in MONTHS_THAT_DIFFER
        dark = (("cross_checks.csv", 22),) if differs else ()
        yield Record(
            claim=f"{row['station']}, month {month + 1}, share of clear",
            **band(0.3, 1.0),
            ours=share,
            unit="",
            why="a whole month of typical weather has between 0.3 and all of the clear sky's "
            "light (0.3 from memory)",
            rows=(*rows, *dark),
            disagrees=DARK_MONTHS if differs else "",
            at_most=1.2,
            **origin(row),
        )
        yield Record(
            claim=f"{row['station']}, month {month + 1}, share of that beyond air",
            **band(0.29, 0.73),
            ours=level / beyond[month],
            unit="",
            why="0.30 to 0.72 was found with another reckoning of the sun; a hundredth to "
            "either side",
            rows=(*rows, ("cross_checks.csv", 21)),
            **origin(row),
        )
