"""Generator, mains charger and inverter: at single points, and running in stations."""

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
from support.sample_devices import law_at, settled, signals_at
from support.small_station import SITE, run_text

from copperpath.finding import Finding
from copperpath.plugin_api import ParameterProblem
from copperpath_grammar.diagnostics import Level
from copperpath_plugins.converters.inverter import Inverter
from copperpath_plugins.converters.mains_charger import MainsCharger
from copperpath_plugins.sources.generator import Generator

# ---- single points -------------------------------------------------------------------------------

RUNS = (1.0, 0.5, 1.0, 0.0)
"""States of a generator that runs with a full tank."""


def generator(output: float, state: tuple[float, ...] = RUNS, **given: float) -> tuple[float, ...]:
    values = settled(Generator, rating=1000.0, **given)
    return law_at(Generator, values, (output, 12.5), state, (1.0,))


@pytest.mark.parametrize(("altitude", "watts"), [(0.0, 1000.0), (300.0, 965.0), (2650.0, 690.8)])
def test_a_generator_gives_3_and_a_half_percent_less_for_each_300_metres(
    altitude: float, watts: float
) -> None:
    values = settled(Generator, rating=1000.0, altitude=altitude)
    assert values["most_amps"] * 230.0 == pytest.approx(watts, abs=0.1)
    assert settled(Generator, rating=1000.0)["most_amps"] * 230.0 == pytest.approx(1000.0)


def litres_an_hour(watts: float) -> float:
    """What it burns at that output, by the rate at which its tank empties."""
    values = settled(Generator, rating=1000.0, tank=4e-3)
    # Below no load by amps x resistance: V = 115 + sqrt(115² - P R).
    volts = 115.0 + np.sqrt(115.0**2 - watts * values["output_ohm"])
    signals = signals_at(Generator, values, (volts, 12.5), RUNS, (1.0,))
    return -signals[3] * 3600.0 * 4.0


def test_a_generator_falls_by_three_per_cent_at_its_rated_power():
    amps, sense = generator(0.97 * 230.0)
    assert amps == pytest.approx(-1000.0 / 230.0)
    assert sense == 0.0


@pytest.mark.parametrize("state", [(0.0, 0.0, 1.0, 0.0), (1.0, 0.0, 0.0, 1.0)])
def test_stopped_or_dry_it_gives_nothing(state):
    assert generator(0.0, state, start_below=12.0) == (0.0, 0.0)


def test_it_goes_on_until_it_has_run_for_its_least_time():
    assert generator(220.0, (0.0, 0.9, 1.0, 0.0), start_below=12.0)[0] < 0.0
    assert generator(220.0, (0.0, 1.0, 1.0, 0.0), start_below=12.0)[0] == 0.0


def test_it_burns_a_little_idle_and_half_a_litre_for_a_kilowatt_hour():
    """0.20 + 0.50 x 0.484 kW = 0.442 L/h, so 4 h a day are 1.8 L."""
    assert litres_an_hour(0.0) == pytest.approx(0.20)
    assert litres_an_hour(484.0) == pytest.approx(0.442, rel=1e-6)
    assert 4.0 * litres_an_hour(484.0) == pytest.approx(1.8, abs=0.04)


def test_a_generator_that_stops_below_where_it_starts_is_refused():
    with pytest.raises(ParameterProblem) as caught:
        settled(Generator, rating=1000.0, start_below=12.0, stop_above=11.9)
    assert caught.value.parameter == "stop_above"


def test_a_mains_charger_takes_its_output_over_its_efficiency():
    """30 A at 14.2 V with 88 %: 484 W."""
    values = settled(MainsCharger, output_limit=30.0, absorb=14.8, efficiency=0.88, idle=0.0)
    taken, into = law_at(MainsCharger, values, (230.0, 14.2), (0.0, 0.0))
    assert into == pytest.approx(-30.0)
    assert taken * 230.0 == pytest.approx(484.0, abs=0.5)


def test_a_mains_charger_gives_way_to_a_weak_generator():
    values = settled(MainsCharger, output_limit=30.0)
    at = {
        share: law_at(MainsCharger, values, (230.0 * share, 13.0), (0.0, 0.0))[1]
        for share in (0.70, 0.80, 0.90)
    }
    assert at[0.70] == 0.0
    assert at[0.80] == pytest.approx(-15.0)
    assert at[0.90] == pytest.approx(-30.0)


def inverter_watts(share: float) -> tuple[float, float]:
    """Power taken and given at a share of its rating."""
    values = settled(Inverter, rating=300.0, idle=4.0)
    watts = 300.0 * share
    volts = 115.0 + np.sqrt(115.0**2 - watts * values["output_ohm"])
    taken, given = law_at(Inverter, values, (12.8, volts), (0.0,))
    return 12.8 * taken, -volts * given


def test_an_inverter_has_the_efficiencies_of_its_datasheet():
    taken, given = inverter_watts(0.5)
    assert given == pytest.approx(150.0)
    assert given / taken == pytest.approx(0.91)
    taken, given = inverter_watts(0.97)
    assert given / taken == pytest.approx(0.87, abs=0.003)


def test_an_inverter_without_a_load_takes_its_idle_power():
    assert inverter_watts(0.0) == (pytest.approx(4.0), pytest.approx(0.0, abs=1e-9))


def test_at_a_small_load_the_idle_power_eats_most():
    """Fifteen watts from 300: 4 W idle and some loss, so under 80 %."""
    taken, given = inverter_watts(0.05)
    assert 0.70 < given / taken < 0.80


def test_an_inverter_that_is_off_takes_and_gives_nothing():
    values = settled(Inverter, rating=300.0)
    assert law_at(Inverter, values, (12.8, 100.0), (1.0,)) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("wrong", "at"),
    [({"restart": 10.0}, "restart"), ({"efficiency_half": 0.99}, "efficiency_half")],
)
def test_an_inverter_that_contradicts_itself_is_refused(wrong, at):
    with pytest.raises(ParameterProblem) as caught:
        settled(Inverter, rating=300.0, **wrong)
    assert caught.value.parameter == at


# ---- stations ------------------------------------------------------------------------------------


def camp(generator: str, load: str, lasts: str, pack: str = "charge 30 %") -> str:
    """A battery of 100 Ah, a generator of 1 kW with a charger of 30 A, and a load."""
    return SITE.format(lasts=lasts, sky="clear", more="") + (
        f"storage pack : lfp {{ capacity 100 Ah; temperature 25 degC; available 100 %; {pack} }}\n"
        f"source genset : generator {{ rating 1 kW; {generator} }}\n"
        "converter charger : mains_charger { output_limit 30 A }\n"
        f"load camp : steady {{ works 9 V .. 16 V; {load} }}\n"
        "cable genset -> charger.mains { length 20 m; wire 1.5 mm2 }\n"
        "cable charger.battery -> pack { length 1 m; wire 10 mm2; fuse 60 A at pack }\n"
        "cable genset.sense -> pack { length 1 m; wire 1 mm2; fuse 1 A at pack }\n"
        "cable pack -> camp { length 1 m; wire 6 mm2; fuse 40 A at pack }\n"
    )


def test_by_the_hour_it_runs_in_its_hours_and_charges_thirty_amperes():
    text = camp("on 10:00 to 14:00; start_delay 0 s", "current 1 A", "10 h")
    run = solved_by_both(text, 300.0)
    running = amps_into(run, "genset") < 0.0
    assert first_time(running) == 24
    assert running[24:72].all()
    assert not running[72:].any()
    assert amps_into(run, "pack")[24:50] == pytest.approx(29.0, abs=0.1)
    # 4 h at 29 A into 100 Ah would be 116 %: it is full before.
    assert remembered(run, "pack", "charge").max() > 0.99
    assert imbalance(run) < 1e-6


def test_a_low_voltage_starts_it_and_a_high_one_stops_it():
    text = camp("start_below 12.9 V; stop_above 14.0 V; stop_delay 10 min", "current 10 A", "10 h")
    run = solved_by_both(text, 300.0)
    running = amps_into(run, "genset") < 0.0
    sensed = volts_at(run, "genset", "sense")
    assert np.all(np.abs(sensed - volts_at(run, "pack", "line")) < 1e-6)
    starts = first_time(running)
    assert sensed[starts - 1] < 12.9
    stops = starts + first_time(~running[starts:])
    high = starts + first_time(sensed[starts:] > 14.0)
    assert stops == high + 2
    assert stops > starts + 6
    assert imbalance(run) < 1e-6


def test_it_never_runs_for_less_than_its_least_time():
    """Nearly full, so that the voltage is high within minutes; yet it runs for its half hour."""
    text = camp(
        "start_below 13.55 V; stop_above 13.6 V; stop_delay 0 s; least_run 30 min; start_delay 0 s",
        "current 5 A; on 08:00 to 08:10",
        "3 h",
        "charge 99 %",
    )
    run = solved_by_both(text, 60.0)
    running = amps_into(run, "genset") < 0.0
    starts = first_time(running)
    stops = starts + first_time(~running[starts:])
    assert stops - starts == 30
    assert np.all(volts_at(run, "genset", "sense")[starts + 3 : stops] > 13.6)


def test_an_empty_tank_ends_it():
    """A tenth of 3 litres at 0.2 + 0.5 x (30 A x 13.4 V / 0.87 = 0.465 kW) = 0.43 L/h: 42 min."""
    text = camp("on 09:00 to 18:00; fuel 10 %; start_delay 0 s", "current 2 A", "8 h")
    run = solved_by_both(text, 60.0)
    dry = first_time(remembered(run, "genset", "dry") > 0.5)
    assert dry - 60 == pytest.approx(42, abs=3)
    assert remembered(run, "genset", "fuel")[-1] == 0.0
    assert np.all(amps_into(run, "pack")[dry + 1 :] < 0.0)
    assert imbalance(run) < 1e-6


def dry_findings(generator: str) -> list[Finding]:
    """What a day with the generator says of its tank."""
    record = run_text(camp(generator, "current 2 A", "10 h"), 300.0)
    return [each for each in record.findings if each.rule == "ran-dry"]


def test_a_tank_that_runs_dry_is_told_with_its_time_and_what_mends_it():
    """A quarter of a gallon, 0.946 L, at 0.43 L/h from 9:00 on: two hours and 12 minutes."""
    (found,) = dry_findings("on 09:00 to 18:00; tank 0.25 gal")
    words = found.message.removeprefix("the tank of `genset` is empty from Fri 19 June ")
    clock, _, rest = words.partition(";")
    hour, minute = clock.split(":")
    assert 60 * int(hour) + int(minute) == pytest.approx(11 * 60 + 12, abs=15)
    assert rest == " it gives nothing then"
    assert found.level is Level.WARN
    assert found.remedy == "a larger tank, or somebody who fills it"


def test_a_tank_that_lasts_is_not_told():
    assert dry_findings("on 09:00 to 18:00; tank 2 gal") == []


def test_its_hours_may_have_their_days():
    """On the first evening alone: 17:00 is nine hours into the run, which begins at 8:00."""
    text = camp("on 17:00 to 21:00 on 2026-06-19", "current 2 A", "48 h")
    running = amps_into(solved_by_both(text, 300.0), "genset") < 0.0
    assert list(np.flatnonzero(np.diff(running.astype(int)))) == [9 * 12 - 1, 13 * 12 - 1]


SOCKET = (
    "converter wall : inverter { rating 300 W; cutoff 12.5 V; restart 13.2 V }\n"
    "load kettle : mains_load { power 150 W }\n"
    "cable pack -> wall { length 1 m; wire 16 mm2; fuse 60 A at pack }\n"
    "cable wall.mains -> kettle { length 2 m; wire 1.5 mm2 }\n"
)


def inverter_station(pack: str, lasts: str) -> str:
    return SITE.format(lasts=lasts, sky="clear", more="") + (
        f"storage pack : lfp {{ capacity 50 Ah; temperature 25 degC; available 100 %; {pack} }}\n"
        + SOCKET
    )


def test_a_load_on_the_inverter_draws_its_power_over_the_efficiency():
    run = solved_by_both(inverter_station("charge 90 %", "2 h"), 300.0)
    assert volts_at(run, "kettle", "line")[1] == pytest.approx(227.7, abs=0.3)
    watts = -volts_at(run, "pack", "line") * amps_into(run, "pack")
    assert watts[5] == pytest.approx(150.0 / 0.91, rel=0.02)
    assert imbalance(run) < 1e-6


def test_the_inverter_switches_off_at_a_low_battery_and_stays_off():
    run = solved_by_both(inverter_station("charge 25 %", "4 h"), 60.0)
    off = remembered(run, "wall", "off") > 0.5
    starts = first_time(off)
    assert volts_at(run, "wall", "battery")[starts - 1] < 12.5
    assert off[starts:].all()
    assert np.all(np.abs(amps_into(run, "pack")[starts:]) < 1e-6)
    assert np.all(np.abs(volts_at(run, "kettle", "line")[starts:]) < 1e-3)
