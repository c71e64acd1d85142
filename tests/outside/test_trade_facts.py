"""Facts of the trade: common practice, no source. Wide bands, on real sun at real places."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from typing import Any

import numpy as np
import pytest
from support.panel_curve import panel_amps
from support.sample_devices import settled

from copperpath.plugin_api import AmbientRule, Mount, Schedule
from copperpath.site import Site, make_site
from copperpath.solver.shapes import law_shape
from copperpath.station import ClearSky, SiteSettings
from copperpath_plugins.loads.transceiver import Transceiver
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

PANEL: dict[str, Any] = {"power": 28.0, "vmp": 17.6, "voc": 21.4, "isc": 1.75}
CHARGING_V = 14.0


def _site(starts: datetime, hours: float, latitude: float = 65.0) -> Site:
    """A clear sky at 25 degrees east."""
    return make_site(
        SiteSettings(
            latitude_deg=latitude,
            longitude_deg=25.0,
            altitude_m=100.0,
            starts=starts,
            lasts_s=hours * 3600.0,
            sky=ClearSky(1.0, {}),
            air_low_k=281.15,
            air_high_k=292.15,
            ground_reflects=0.2,
            repeats=False,
        ),
        60.0,
    )


def test_a_flat_panel_at_65_north_gives_most_of_its_current_at_midsummer_noon():
    """0.70 to 0.95 of the short-circuit current on the label, near the charging voltage."""
    noon = datetime(2026, 6, 21, 11, 50, tzinfo=timezone(timedelta(hours=1, minutes=40)))
    values = settled(Photovoltaic, **PANEL, mount=Mount(0.0, 180.0))
    drives = Photovoltaic.drive(_site(noon, 1 / 3), values)
    amps = panel_amps(drives, np.full(20, CHARGING_V))
    assert np.all(amps > 0.70 * PANEL["isc"])
    assert np.all(amps < 0.95 * PANEL["isc"])


@pytest.mark.parametrize("height", [6.0, 7.5, 9.0])
def test_a_panel_that_faces_a_low_sun_still_gives_a_fair_share_of_its_current(height):
    """Midsummer evening at 65 north, sun 6 to 9 degrees up: 0.15 to 0.35 of the rated current.

    With 80 % of the light counting, as is usual for a propped blanket (common practice, no
    source). Clean and exactly aimed the model gives 0.25 to 0.43; in the clear air of winter
    more still: at 5.5 degrees, 64.8 north in January, our clear sky has 19 % more beam than the
    2013 handbook values for the same noon, in July 13 % less.
    """
    day = _site(datetime(2026, 6, 21, 18, tzinfo=timezone(timedelta(hours=2))), 6)
    assert day.sun is not None
    nearest = int(np.argmin(np.abs(day.sun.apparent_elevation_deg - height)))
    facing = Mount(90.0 - height, float(day.sun.azimuth_deg[nearest]))
    values = settled(Photovoltaic, **PANEL, mount=facing, derate=0.8)
    drives = Photovoltaic.drive(day, values)
    amps = panel_amps(drives, np.full(day.n, CHARGING_V))[nearest]
    rated = PANEL["power"] / PANEL["vmp"]
    assert 0.15 * rated < amps < 0.35 * rated


@pytest.mark.parametrize("receive", [0.3, 0.4])
def test_ten_ampere_hours_carry_a_low_power_radio_on_receive_for_roughly_a_day(receive):
    """Stepped by the minute with the two laws, without cable, until the pack gives no more."""
    radio = settled(
        Transceiver,
        receive=receive,
        transmit=2.0,
        transmitting=Schedule((), 0.0),
        works=(9.0, 15.0),
    )
    pack = settled(LithiumIronPhosphate, capacity=36_000.0, temperature=AmbientRule(288.15))
    radio_shape, pack_shape = law_shape(Transceiver), law_shape(LithiumIronPhosphate)
    radio_p = radio_shape.p_type(*(radio[name] for name in radio_shape.p_fields))
    pack_p = pack_shape.p_type(*(pack[name] for name in pack_shape.p_fields))
    amps = float(
        Transceiver.law(radio_shape.v_type(12.8), (), radio_shape.d_type(1.0, 0.0, 0.0), radio_p)[0]
    )
    charge, minutes = 1.0, 0
    while True:
        state = pack_shape.x_type(charge, 288.15, 0.0, 0.0, 0.0)
        at_work = pack_shape.v_type(pack["cutoff_voltage"])
        if float(LithiumIronPhosphate.law(at_work, state, (), pack_p)[0]) > -amps:
            break
        charge -= amps * 60.0 / 36_000.0
        minutes += 1
    assert 20.0 < minutes / 60.0 < 36.0
