"""Position of the sun against published and independent values (source beside each row)."""

from __future__ import annotations

from datetime import datetime

import numpy as np
import pytest
from support.outside_data import rows_of

from copperpath.plugin_api import Mount
from copperpath.site.light import Light
from copperpath.site.place import Place
from copperpath.site.plane import plane_light
from copperpath.site.sun import Sun, sun_over_time

PLACES = rows_of("sun_six_places.csv")


def _published() -> tuple[Sun, dict[str, str]]:
    table = {row["quantity"]: row["value"] for row in rows_of("sun_table_a5_1.csv")}
    ahead = float(table["time zone"]) * 3600.0
    local = datetime.fromisoformat(f"{table['date']}T{table['local time']}+00:00").timestamp()
    place = Place(
        float(table["latitude"]), float(table["longitude"]), float(table["elevation"]), ahead
    )
    return sun_over_time(np.array([local - ahead]), place), table


def test_sun_stands_where_the_published_example_says():
    """Within 0.001 degrees: the example states its own air pressure and temperature, we take the
    usual ones of its height."""
    sun, table = _published()
    zenith = float(table["zenith with refraction"])
    assert sun.apparent_zenith_deg[0] == pytest.approx(zenith, abs=1e-3)
    assert sun.azimuth_deg[0] == pytest.approx(float(table["azimuth from north"]), abs=1e-3)


def test_the_beam_falls_on_the_published_slope_at_the_published_angle():
    sun, table = _published()
    from_south = float(table["surface azimuth rotation from south (west positive)"])
    mount = Mount(float(table["surface slope"]), 180.0 + from_south)
    one = np.ones(1)
    beam_only = Light(level=0.0 * one, beam=one, diffuse=0.0 * one, share=one)
    angle = np.degrees(np.arccos(plane_light(beam_only, sun, mount, 0.0)[0]))
    assert angle == pytest.approx(float(table["incidence angle on the slope"]), abs=2e-3)


@pytest.mark.parametrize("row", PLACES, ids=[row["place"] for row in PLACES])
def test_sun_stands_where_it_should_in_the_far_north_the_tropics_and_the_south(row):
    time_s = np.array([datetime.fromisoformat(row["utc"].replace("Z", "+00:00")).timestamp()])
    height = float(row["elevation_m"])
    sun = sun_over_time(time_s, Place(float(row["lat_deg"]), float(row["lon_deg"]), height, 0.0))
    true = float(row["true_elevation_deg"])
    seen = float(row["apparent_elevation_deg"])
    assert 90.0 - sun.zenith_deg[0] == pytest.approx(true, abs=1e-3)
    assert sun.apparent_elevation_deg[0] == pytest.approx(seen, abs=1e-3)
    # Near the zenith a thousandth of a degree of height is a large angle of direction.
    loose = 1e-3 / np.cos(np.radians(true))
    assert sun.azimuth_deg[0] == pytest.approx(float(row["azimuth_deg"]), abs=loose)
