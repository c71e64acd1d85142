"""A laptop on its supply and on its own battery, worked by hand."""

from __future__ import annotations

import pytest
from support.device_runs import amps_into, first_time, imbalance, remembered, solved_by_both
from support.runs import station_from_text
from support.sample_devices import law_at, settled, signals_at
from support.small_station import run_text, small_text

from copperpath.record.figures import powered_steps
from copperpath.record.run import Run
from copperpath_plugins.loads.laptop import Laptop

WATT_HOUR = 3600.0
PLUGGED, UNPLUGGED = (1.0, 1.0, 1.0), (1.0, 0.0, 1.0)
LEAD = "cable pack -> notebook { length 1 m; wire 6 mm2; fuse 10 A at pack }\n"


def notebook(more: str, lasts: str = "4 h", rest: str = "") -> Run:
    load = f"load notebook : laptop {{ power 20 W; battery 40 Wh; {more} }}\n"
    return solved_by_both(small_text(load + LEAD + rest, lasts=lasts, capacity="100 Ah"))


def test_it_takes_its_work_and_its_charging_and_nothing_while_unplugged():
    values = settled(Laptop, power=30.0, battery=50 * WATT_HOUR, charge_power=42.0)
    assert law_at(Laptop, values, (12.0,), (0.5,), PLUGGED) == pytest.approx((6.0,))
    assert law_at(Laptop, values, (12.0,), (1.0,), PLUGGED) == pytest.approx((2.5,))
    assert law_at(Laptop, values, (12.0,), (0.5,), UNPLUGGED) == (0.0,)


def test_it_takes_the_same_power_at_both_ends_of_its_window():
    values = settled(Laptop, power=30.0, battery=50 * WATT_HOUR)
    for volts in (11.0, 16.0):
        (amps,) = law_at(Laptop, values, (volts,), (1.0,), PLUGGED)
        assert volts * amps == pytest.approx(30.0)


def test_charging_tapers_over_the_last_fifth():
    values = settled(Laptop, power=0.0, battery=50 * WATT_HOUR, charge_power=40.0)
    (amps,) = law_at(Laptop, values, (12.0,), (0.9,), PLUGGED)
    assert 12.0 * amps == pytest.approx(20.0)


def test_charging_stores_its_efficiency_and_work_takes_all():
    """40 W at 85 % into 50 Wh are 0.68 of it an hour; 30 W out of it are 0.6 an hour."""
    values = settled(Laptop, power=30.0, battery=50 * WATT_HOUR, charge_power=40.0)
    (rate,) = signals_at(Laptop, values, (12.0,), (0.5,), PLUGGED)
    assert 3600.0 * rate == pytest.approx(0.68)
    (rate,) = signals_at(Laptop, values, (12.0,), (0.5,), UNPLUGGED)
    assert 3600.0 * rate == pytest.approx(-0.6)


def test_unplugged_it_is_powered_until_its_own_battery_is_empty():
    """40 Wh at 20 W last two hours, to the minute in which they end."""
    run = notebook("unplugged 08:00 to 12:00")
    steps = powered_steps(run, run.problem.station.device("notebook"))
    assert steps is not None
    assert steps[0].all()
    assert first_time(~steps[1]) in (119, 120)
    assert not steps[1][120:].any()
    assert amps_into(run, "notebook") == pytest.approx(0.0)


def test_it_is_powered_again_once_it_is_plugged_in():
    run = notebook("unplugged 08:00 to 11:00")
    steps = powered_steps(run, run.problem.station.device("notebook"))
    assert steps is not None
    assert not steps[1][120:180].any()
    assert steps[1][180:].all()
    assert imbalance(run) < 1e-6


def test_it_charges_only_in_the_hours_in_which_it_may():
    run = notebook(
        "charge 20 %; charge_power 20 W; off 00:00 to 24:00; not_charging 08:00 to 09:00"
    )
    own = remembered(run, "notebook", "own")
    assert own[60] == pytest.approx(0.2)
    # An hour of 20 W at 85 % is 17 Wh of 40: from 20 % to 62.5 %, below the taper.
    assert own[120] == pytest.approx(0.625, rel=1e-3)


DEAD = small_text(
    "load notebook : laptop { power 20 W; battery 40 Wh; charge 50 % }\n"
    "load lamp : steady { current 20 A; works 9 V .. 15 V }\n"
    "cable pack -> strip.in { length 0.3 m; wire 10 mm2; fuse 40 A at pack }\n"
    "block strip : strip { ways 2; rating 40 A }\n"
    "cable strip.1 -> lamp { length 0.3 m; wire 10 mm2 }\n"
    "cable strip.2 -> notebook { length 1 m; wire 6 mm2 }\n"
    "{claims}",
    lasts="4 h",
    capacity="20 Ah",
)


def claims_met(text: str) -> list[bool | None]:
    return [each.met for each in run_text(text).requirements]


def test_after_the_pack_is_empty_it_is_powered_from_its_own_battery_and_then_no_more():
    """The pack is flat within the hour. 40 Wh full by then, or nearly, are two hours more."""
    claims = "require notebook powered for {} h\n"
    text = DEAD.replace("{claims}", claims.format(2) + claims.format(4))
    assert station_from_text(text)
    assert claims_met(text) == [True, False]


def test_the_verdict_says_that_its_own_battery_is_empty():
    """Unplugged for four hours with two hours in its battery, beside a pack that is nearly full."""
    load = "load notebook : laptop { power 20 W; battery 40 Wh; unplugged 08:00 to 12:00 }\n"
    verdict = run_text(small_text(load + LEAD, lasts="4 h", capacity="100 Ah")).verdict
    assert "`notebook` has emptied its own battery and has no supply" in verdict.sentence
