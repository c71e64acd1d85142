"""The clear sky far in the north, against the ASHRAE clear-sky model with its own optical depths.

Model: ASHRAE Handbook of Fundamentals 2013, chapter 14, "Clear-sky solar radiation". Optical depths
of Fairbanks, Alaska: statistics file of the weather station 702610. The file's own noon figures of
January and November (374 and 355 W/m2 in the beam) are of a sun some 0.8 degrees lower than it
stands at noon: the model gives 446 and 424 W/m2 at the sun's height, so it is the model that is
compared, at the same height.
"""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from copperpath.site.clear_sky import clear_light
from copperpath.site.place import Place
from copperpath.site.sun import sun_over_time

FAIRBANKS = Place(64.82, -147.85, 133.0, -9.0 * 3600.0)
DEPTHS = {
    1: (0.223, 2.395),
    3: (0.258, 2.498),
    5: (0.289, 2.453),
    7: (0.313, 2.434),
    9: (0.284, 2.575),
    11: (0.257, 2.584),
}


def ashrae(
    height_deg: float, beyond_air: float, beam: float, diffuse: float
) -> tuple[float, float]:
    """Beam across the rays and diffuse light on the level [W/m²] for two optical depths."""
    air = 1.0 / (np.sin(np.radians(height_deg)) + 0.50572 * (6.07995 + height_deg) ** -1.6364)
    ab = 1.454 - 0.406 * beam - 0.268 * diffuse + 0.021 * beam * diffuse
    ad = 0.507 + 0.205 * beam - 0.080 * diffuse - 0.190 * beam * diffuse
    return beyond_air * np.exp(-beam * air**ab), beyond_air * np.exp(-diffuse * air**ad)


def at_noon(month: int) -> tuple[float, float, float, float, float]:
    """The sun's height, our beam and diffuse light, and those of the model."""
    day = datetime(2026, month, 21, tzinfo=UTC).timestamp() + 9.0 * 3600.0
    times = day + np.arange(0.0, 86_400.0, 60.0)
    noon = times[[int(np.argmin(sun_over_time(times, FAIRBANKS).zenith_deg))]]
    sun = sun_over_time(noon, FAIRBANKS)
    light = clear_light(noon, FAIRBANKS, sun)
    height = float(sun.apparent_elevation_deg[0])
    theirs = ashrae(height, float(sun.beyond_air[0]), *DEPTHS[month])
    return height, float(light.beam[0]), float(light.diffuse[0]), *theirs


@pytest.mark.parametrize(("month", "published"), [(3, 860.0), (5, 925.0), (7, 893.0), (9, 821.0)])
def test_the_model_is_written_down_as_it_was_published(month: int, published: float) -> None:
    assert at_noon(month)[3] == pytest.approx(published, rel=0.015)


@pytest.mark.parametrize("month", [1, 3, 11])
def test_the_beam_of_a_low_winter_sun_is_within_5_percent(month: int) -> None:
    _, beam, _, theirs, _ = at_noon(month)
    assert beam == pytest.approx(theirs, rel=0.05)


@pytest.mark.parametrize("month", [5, 7, 9])
def test_the_beam_of_summer_is_duller_by_no_more_than_15_percent(month: int) -> None:
    _, beam, _, theirs, _ = at_noon(month)
    assert 0.85 * theirs < beam < theirs


@pytest.mark.parametrize("month", list(DEPTHS))
def test_level_light_is_duller_by_no_more_than_17_percent(month: int) -> None:
    height, beam, diffuse, their_beam, their_diffuse = at_noon(month)
    rise = np.sin(np.radians(height))
    ratio = (beam * rise + diffuse) / (their_beam * rise + their_diffuse)
    assert 0.83 < ratio < 1.0
