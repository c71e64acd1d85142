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
    "with the sun under 6 degrees our clear sky has a fifth more beam and half as much light from "
    "the rest of the sky as the handbook's; the level light of both together agrees; neither was "
    "measured"
)
HAZE = (
    "the map of monthly haze that our clear sky takes has hazier air over this place in late "
    "summer than the handbook's figures"
)
SPRING = (
    "our clear sky leaves little light to the rest of the sky in clean spring air; the level light "
    "of both together agrees, and which of the two is nearer was not measured"
)
DARK_MONTHS = (
    "at noon heights under about 6 degrees the recorded light of the month exceeds our clear sky: "
    "neither is truth there; all the light of such a month is 0.05 to 0.26 kWh/m2 a day"
)
NOONS_THAT_DIFFER = {
    (1, "beam"): LOW_SUN,
    (1, "rest of the sky"): LOW_SUN,
    (3, "rest of the sky"): SPRING,
    (7, "beam"): HAZE,
    (9, "beam"): HAZE,
    (11, "beam"): LOW_SUN,
    (11, "rest of the sky"): LOW_SUN,
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
        their_beam = float(row["clear_noon_beam_normal_W_m2"])
        their_rest = float(row["clear_noon_diffuse_horizontal_W_m2"])
        their_level = their_rest + their_beam * np.sin(np.radians(height))
        month = starts.strftime("%B")
        for word, theirs, ours, share in (
            ("beam", their_beam, beam, 0.10),
            ("rest of the sky", their_rest, rest, 0.25),
            ("level light", their_level, level, 0.10),
        ):
            reason = NOONS_THAT_DIFFER.get((int(row["month"]), word), "")
            yield Record(
                claim=f"noon of 21 {month}, 64.8 N, {word}",
                expected=float(theirs),
                ours=ours,
                unit="W/m2",
                tolerance=share * float(theirs),
                why=HANDBOOK,
                rows=rows,
                disagrees=reason,
                at_most=0.5 * float(theirs),
                **origin(row),
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
