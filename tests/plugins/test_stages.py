"""Charging stages of the tracking and the pulsing controller, in stations with a lead-acid pack."""

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
from support.small_station import SITE

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.pwm_charger import PwmCharger

STAGED = "profile lead_acid; absorb 14.4 V; float 13.5 V; rebulk 12.9 V"


def sunny(charger: str, pack: str, rest: str = "", lasts: str = "14 h") -> str:
    """A panel of 200 W, a charger and a lead-acid battery of 50 Ah, from eight in June."""
    return SITE.format(lasts=lasts, sky="clear", more="") + (
        f"storage pack : lead_acid {{ capacity 50 Ah; temperature 25 degC; {pack} }}\n"
        "source panel : photovoltaic {\n"
        "    power 200 W; vmp 18 V; voc 22 V; isc 11.8 A; mount flat\n}\n"
        f"converter regulator : {charger}\n"
        "cable panel -> regulator.panel { length 3 m; wire 6 mm2 }\n"
        "cable regulator.battery -> pack { length 0.3 m; wire 10 mm2; fuse 30 A at pack }\n" + rest
    )


def mppt(more: str = "") -> str:
    return f"mppt_charger {{ output_limit 15 A; max_input 40 V; {STAGED}; {more} }}"


def pwm(more: str = "") -> str:
    return f"pwm_charger {{ output_limit 15 A; max_input 40 V; {STAGED}; {more} }}"


BOTH = pytest.mark.parametrize("charger", [mppt, pwm], ids=["mppt", "pwm"])


@BOTH
def test_it_floats_when_the_absorption_time_is_over(charger):
    """Two hours within 2 % of 14.4 V, a tail delay of five minutes, then 13.5 V."""
    text = sunny(charger("tail 0 A"), "charge 80 %")
    run = solved_by_both(text, 150.0)
    volts = volts_at(run, "regulator", "battery")
    floats = first_time(remembered(run, "regulator", "floating") > 0.5)
    held = volts[:floats] > 0.98 * 14.4
    assert held.sum() == pytest.approx((7200.0 + 300.0) / 150.0, abs=2)
    assert volts[floats + 12] == pytest.approx(13.5, abs=0.05)
    assert imbalance(run) < 1e-6


@BOTH
def test_a_small_tail_current_ends_absorption_early(charger):
    run = solved_by_both(sunny(charger("tail 1.5 A; absorb_for 8 h"), "charge 95 %"), 150.0)
    floats = first_time(remembered(run, "regulator", "floating") > 0.5)
    given = -amps_into(run, "regulator", 1 if charger is pwm else 0)
    assert np.all(given[floats - 2 : floats] < 1.5)
    assert remembered(run, "regulator", "absorbed")[floats] < 0.9


@BOTH
def test_a_night_without_sun_starts_the_stages_anew(charger):
    run = solved_by_both(sunny(charger(), "charge 90 %", lasts="30 h"), 300.0)
    floating = remembered(run, "regulator", "floating") > 0.5
    assert floating[: 13 * 12].any()
    assert not floating[18 * 12]
    assert remembered(run, "regulator", "absorbed")[18 * 12] == 0.0


@BOTH
def test_a_load_that_pulls_the_battery_down_brings_bulk_back(charger):
    lamp = (
        "load lamp : steady { current 25 A; works 9 V .. 16 V; on 14:00 to 15:00 }\n"
        "cable pack -> lamp { length 1 m; wire 10 mm2; fuse 40 A at pack }\n"
    )
    text = sunny(charger("rebulk_for 10 min; absorb_for 30 min"), "charge 95 %", lamp, "8 h")
    run = solved_by_both(text, 60.0)
    floating = remembered(run, "regulator", "floating") > 0.5
    low = 360 + first_time(volts_at(run, "regulator", "battery")[360:] < 12.9)
    assert floating[359]
    assert floating[low + 9]
    assert not floating[low + 10]


def test_with_the_lithium_profile_it_holds_one_voltage():
    values = settled(MpptCharger, output_limit=15.0, max_input=40.0)
    signals = signals_at(MpptCharger, values, (14.4,), (1.0, 1.0, 0.0), (100.0,))
    assert signals[2:] == (0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("wrong", "at"), [({"float": 14.4}, "float"), ({"rebulk": 13.6}, "rebulk")]
)
def test_stages_out_of_order_are_refused(wrong, at):
    with pytest.raises(ParameterProblem) as caught:
        settled(MpptCharger, output_limit=15.0, max_input=40.0, profile="lead_acid", **wrong)
    assert caught.value.parameter == at


# ---- the pulsing controller alone ----------------------------------------------------------------


def pwm_law(panel: float, battery: float, **given: float) -> tuple[float, ...]:
    values = settled(PwmCharger, output_limit=10.0, max_input=30.0, **given)
    return law_at(PwmCharger, values, (panel, battery), (1.0, 0.0, 0.0))


def test_at_its_drop_it_passes_its_rated_current():
    taken, into = pwm_law(13.2, 13.0, drop=0.2, idle=0.5)
    assert taken == pytest.approx(10.0)
    assert into == pytest.approx(0.5 - 10.0)


def test_at_its_set_voltage_it_passes_what_is_asked_for():
    assert pwm_law(18.0, 14.36)[0] == pytest.approx(2.0)
    assert pwm_law(18.0, 14.4)[0] == 0.0


@pytest.mark.parametrize("panel", [0.0, 5.0, 13.0])
def test_at_night_nothing_flows_back_into_the_panel(panel):
    assert pwm_law(panel, 13.0)[0] == 0.0


def test_it_wins_no_watts_from_a_panel_of_higher_voltage():
    """In bulk the panel stands at the battery's voltage and gives its short-circuit current at
    most; the same panel behind a tracking controller gives more amperes to the battery."""
    runs = {
        kind: solved_by_both(sunny(charger, "charge 40 %", lasts="3 h"), 300.0)
        for kind, charger in (("pwm", pwm()), ("mppt", mppt()))
    }
    pulses, tracks = (amps_into(runs[kind], "pack") for kind in ("pwm", "mppt"))
    panel = volts_at(runs["pwm"], "regulator", "panel")
    battery = volts_at(runs["pwm"], "regulator", "battery")
    # It wakes after the first step.
    assert np.all((panel - battery)[1:] < 0.2)
    assert np.all(pulses < 11.8)
    assert tracks.sum() > 1.1 * pulses.sum()


def test_at_night_the_panel_draws_nothing_from_the_battery():
    run = solved_by_both(sunny(pwm(), "charge 60 %", lasts="20 h"), 300.0)
    # 01:00: the battery gives the controller its 8 mA and nothing else.
    assert amps_into(run, "pack")[17 * 12] == pytest.approx(-0.008, rel=1e-3)
