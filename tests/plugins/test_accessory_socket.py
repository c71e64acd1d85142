"""The accessory socket: the voltage lost in its contacts, at a current and in a station."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import imbalance, solved_by_both, volts_at
from support.sample_devices import settled
from support.small_station import small_text

from copperpath_plugins.blocks.accessory_socket import AccessorySocket

STATION = """block socket : accessory_socket { contact 50 mohm }
load cooler : steady { current 4 A; works 9 V .. 15 V }
cable pack -> socket.line { length 0.5 m; wire 2.5 mm2; fuse 10 A at pack }
cable socket.load -> cooler { length 0.5 m; wire 1.5 mm2 }
"""


def test_it_is_one_resistance_from_feed_to_plug():
    (link,) = AccessorySocket.links(settled(AccessorySocket))
    assert (link.start, link.end) == ("line", "load")
    assert 0.010 <= link.ohm <= 0.050


def test_a_cooler_on_a_bad_socket_loses_a_fifth_of_a_volt():
    """4 A through 50 mohm."""
    run = solved_by_both(small_text(STATION, lasts="30 min", capacity="20 Ah"))
    lost = volts_at(run, "socket", "line") - volts_at(run, "socket", "load")
    assert np.all(lost == pytest.approx(0.2, abs=1e-6))
    assert imbalance(run) < 1e-6
