"""The charger from a vehicle's battery: at single points, and through a drive in a station."""

from __future__ import annotations

import numpy as np
import pytest
from support.device_runs import (
    amps_into,
    first_time,
    imbalance,
    remembered,
    solved_by_both,
    volts_at,
)
from support.sample_devices import law_at, settled
from support.small_station import SITE

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.converters.dc_charger import DcCharger


def charger(vehicle: float, battery: float, running: float = 1.0, **given: float):
    values = settled(DcCharger, output_limit=20.0, **given)
    return law_at(DcCharger, values, (vehicle, battery), (running, 0.0, 0.0))


def test_it_takes_the_power_it_gives_over_its_efficiency():
    taken, into = charger(13.8, 13.2, idle=0.0)
    assert into == pytest.approx(-20.0)
    assert taken == pytest.approx(20.0 * 13.2 / 0.9 / 13.8)


def test_its_limit_folds_back_in_a_straight_line():
    assert charger(12.7, 13.2, folds=(12.2, 13.2))[1] == pytest.approx(-10.0)
    assert charger(12.45, 13.2, folds=(12.2, 13.2))[1] == pytest.approx(-5.0)
    assert charger(12.2, 13.2, folds=(12.2, 13.2))[1] == 0.0


def test_at_its_set_voltage_it_gives_what_is_asked_for():
    """0.2 V under it at the limit of 20 A, so 40 mV under it at 4 A."""
    assert charger(13.8, 14.36)[1] == pytest.approx(-4.0)
    assert charger(13.8, 14.5)[1] == 0.0


def test_with_the_engine_off_it_only_draws_its_idle_current():
    assert charger(13.0, 12.0, running=0.0) == (pytest.approx(0.010), 0.0)


@pytest.mark.parametrize("folds", [(12.5, 12.5), (12.8, 13.2)])
def test_a_span_that_is_empty_or_never_lets_it_end_is_refused(folds):
    with pytest.raises(ParameterProblem) as caught:
        settled(DcCharger, output_limit=20.0, folds=folds)
    assert caught.value.parameter == "folds"


DRIVE = (
    SITE.format(lasts="8 h", sky="clear", more="")
    + """
storage pack : lfp { capacity 100 Ah; charge 40 %; temperature 25 degC }
storage starter : lead_acid { capacity 60 Ah; charge 95 %; temperature 25 degC }
source alternator : supply { voltage 14.2 V; limit 60 A; on 10:00 to 12:00 }
converter link : dc_charger { output_limit 20 A; on_delay 2 min; off_delay 5 min }
cable alternator -> starter { length 1 m; wire 25 mm2; fuse 80 A at starter }
"""
)


def drive(lead: str) -> str:
    return DRIVE + (
        f"cable starter -> link.vehicle {{ {lead}; fuse 40 A at starter }}\n"
        "cable link.battery -> pack { length 1 m; wire 10 mm2; fuse 40 A at pack }\n"
    )


def test_it_charges_while_the_engine_turns_and_ends_after_it():
    run = solved_by_both(drive("length 2 m; wire 16 mm2"))
    running = remembered(run, "link", "running") > 0.5
    into = amps_into(run, "pack")
    assert first_time(running) == 120 + 2
    assert np.all(into[122:238] == pytest.approx(20.0, abs=0.05))
    stops = 122 + first_time(~running[122:])
    low = 240 + first_time(volts_at(run, "link", "vehicle")[240:] < 12.7)
    assert stops == low + 5
    assert np.all(into[stops:] <= 0.0)
    # Two hours at 20 A into 100 Ah.
    assert remembered(run, "pack", "charge")[-1] == pytest.approx(0.40 + 0.40, abs=0.04)
    assert imbalance(run) < 1e-6


def test_on_a_long_thin_lead_it_finds_its_balance_instead_of_switching():
    """Six metres of 4 mm² are 60 mohm: at 20 A out the input would sag by 1.3 V, into the span."""
    run = solved_by_both(drive("length 6 m; wire 4 mm2"))
    running = remembered(run, "link", "running") > 0.5
    volts = volts_at(run, "link", "vehicle")[130:235]
    assert running[122:240].all()
    assert np.all((volts > 12.7) & (volts < 13.2))
    assert np.ptp(volts[50:]) < 0.05
    given = -amps_into(run, "link", 1)[130:235]
    assert np.all(given == pytest.approx(20.0 * (volts - 12.2), rel=1e-6))


def test_it_wakes_a_battery_that_has_locked_itself_off():
    """It lives from the vehicle, so it can hold the dead poles above the wake voltage."""
    text = drive("length 2 m; wire 16 mm2").replace("charge 40 %", "charge 1 %") + (
        "load lamp : steady { current 3 A; works 9 V .. 15 V; on 08:00 to 09:00 }\n"
        "cable pack -> lamp { length 1 m; wire 2.5 mm2; fuse 5 A at pack }\n"
    )
    run = solved_by_both(text)
    locked = remembered(run, "pack", "locked") > 0.5
    assert locked[100]
    assert abs(volts_at(run, "pack", "line")[100]) < 1e-3
    wakes = 100 + first_time(~locked[100:])
    assert 122 < wakes <= 125
    assert remembered(run, "pack", "charge")[-1] > 0.35
