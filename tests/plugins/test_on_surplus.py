"""Loads that run on surplus sun alone: when their relay connects them, and what is owed to them."""

from __future__ import annotations

import numpy as np
import pytest
from support.building import SMALL, codes_of, station_of
from support.device_runs import amps_into, imbalance, remembered, solved_by_both, volts_at
from support.sample_devices import law_at, settled, signals_at
from support.small_station import LAMP, LAMP_LEAD, PANEL, run_text, small_text

from copperpath.plugin_api import ParameterProblem
from copperpath.record.run import Run
from copperpath.report.models_screen import model_screen
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.loads.steady_on_surplus import SteadyOnSurplus
from copperpath_plugins.loads.transceiver import Transceiver

STEP_S = 300.0
PUMP = "load pump : steady { power 12 W; runs on surplus }\n"
PUMP_LEAD = "cable pack -> pump { length 1 m; wire 2.5 mm2; fuse 5 A at pack }\n"
INVERTER = (
    "converter wall : inverter { rating 100 W }\n"
    "cable pack -> wall { length 1 m; wire 6 mm2; fuse 15 A at pack }\n"
)
FIVER = (
    "converter fiver : step_down { output 5 V; output_limit 3 A; input 9 V .. 30 V }\n"
    "cable pack -> fiver.in { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
)
SENSE_LEAD = "cable pump.sense -> pack { length 1 m; wire 0.75 mm2; fuse 1 A at pack }\n"
KINDS = {
    "steady": PUMP + PUMP_LEAD,
    "heater": PUMP.replace("steady { power 12 W", "heater { power 12 W; below 30 degC") + PUMP_LEAD,
    "mains_load": INVERTER
    + PUMP.replace("steady", "mains_load")
    + "cable wall.mains -> pump { length 1 m; wire 1.5 mm2 }\n"
    + SENSE_LEAD,
    "usb_device": FIVER
    + PUMP.replace("steady { power 12 W", "usb_device { power 6 W")
    + "cable fiver.out -> pump { length 1 m; wire 1.5 mm2 }\n"
    + SENSE_LEAD,
}


def sunny(rest: str, lasts: str = "48 h") -> str:
    """A panel of 60 W on a battery of 10 Ah."""
    return small_text(PANEL + rest, lasts=lasts, capacity="10 Ah", pack="charge 60 %")


def relay(run: Run) -> np.ndarray:
    return remembered(run, "pump", "connected")[:-1] > 0.5


# ---- single points -------------------------------------------------------------------------------


def test_it_takes_its_power_while_connected_and_nothing_else_ever():
    values = settled(SteadyOnSurplus, power=12.0)
    assert law_at(SteadyOnSurplus, values, (14.0,), (1.0,), (1.0,))[0] == pytest.approx(12.0 / 14.0)
    assert law_at(SteadyOnSurplus, values, (14.0,), (0.0,), (1.0,))[0] == 0.0


@pytest.mark.parametrize(
    ("volts", "signals"), [(14.1, (True, False)), (13.6, (False, False)), (13.2, (False, True))]
)
def test_its_relay_watches_for_14_volts_and_for_13_3(volts, signals):
    values = settled(SteadyOnSurplus, power=12.0)
    assert tuple(signals_at(SteadyOnSurplus, values, (volts,), (0.0,), (1.0,))) == signals


def test_voltages_out_of_order_are_refused():
    with pytest.raises(ParameterProblem) as caught:
        settled(SteadyOnSurplus, power=12.0, surplus_above=13.0)
    assert caught.value.parameter == "surplus_above"


# ---- stations ------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_it_is_connected_only_after_the_battery_stood_high_and_until_it_stands_low(kind):
    run = solved_by_both(sunny(KINDS[kind]), STEP_S)
    sensed = volts_at(run, "pump", "sense" if "sense" in KINDS[kind] else "line")
    on = relay(run)
    begins = np.flatnonzero(on[1:] & ~on[:-1])
    ends = np.flatnonzero(~on[1:] & on[:-1])
    assert len(begins) > 0
    assert len(ends) > 0
    assert np.all(sensed[begins] > 14.0)
    assert np.all(sensed[ends] < 13.3)
    assert np.all(amps_into(run, "pump")[~on] == 0.0)
    assert np.all(amps_into(run, "pump")[on] > 0.0)
    assert imbalance(run) < 1e-6


def test_it_is_off_in_the_dark():
    run = solved_by_both(sunny(PUMP + PUMP_LEAD), STEP_S)
    light = run.problem.site.plane_irradiance(run.problem.station.device("panel").values["mount"])
    dark = light < 1.0
    assert dark.any()
    assert not relay(run)[dark].any()


def test_without_a_panel_it_never_runs():
    text = small_text(PUMP + PUMP_LEAD, lasts="24 h", pack="charge 100 %")
    assert not relay(solved_by_both(text, STEP_S)).any()


def test_it_takes_nothing_outside_its_hours():
    hours = PUMP.replace("runs", "on 00:00 to 06:00; runs")
    run = solved_by_both(sunny(hours + PUMP_LEAD, lasts="24 h"), STEP_S)
    assert relay(run).any()
    assert np.all(amps_into(run, "pump")[: 16 * 12][relay(run)[: 16 * 12]] == 0.0)


# ---- what is owed --------------------------------------------------------------------------------


def test_it_is_never_short_and_never_the_load_that_is_lost():
    """The lamp empties the battery of 2 Ah in four hours; the pump, with no priority, waits."""
    record = run_text(small_text(LAMP + LAMP_LEAD + PUMP + PUMP_LEAD), 300.0)
    assert record.base.verdict.word == "runs down"
    assert record.base.verdict.first_load == "lamp"
    assert all(each.subject != "pump" for each in record.findings)


def test_to_require_it_powered_is_not_known():
    required = PUMP + PUMP_LEAD + "require pump powered throughout\n"
    (result,) = run_text(small_text(required), 300.0).base.requirements
    assert result.met is None


def test_too_many_volts_are_told_of_it_as_of_any_load():
    weak = PUMP.replace("runs", "works 10 V .. 13 V; runs")
    record = run_text(small_text(weak + PUMP_LEAD), 300.0)
    assert [each.subject for each in record.findings if each.rule == "too-many-volts"] == ["pump"]


# ---- in the file ---------------------------------------------------------------------------------


def test_the_file_says_so_in_the_load_or_in_a_part_below_it():
    part = "part spare_pump : steady { power 12 W; runs on surplus; surplus_above 14.2 V }\n"
    text = SMALL + part + "load pump : spare_pump { surplus_delay 5 min }\n" + PUMP_LEAD
    pump = station_of(text).device("pump")
    assert pump.model is SteadyOnSurplus
    assert (pump.values["surplus_above"], pump.values["surplus_delay"]) == (14.2, 300.0)


def test_its_defaults_stand_among_the_assumptions():
    station = station_of(SMALL + PUMP + PUMP_LEAD)
    told = {each.parameter: each.value for each in station.assumptions if each.subject == "pump"}
    assert (told["surplus_above"], told["surplus_below"]) == ("14 V", "13.3 V")


def test_a_load_without_the_words_is_the_plain_one():
    plain = station_of(SMALL + PUMP.replace("; runs on surplus", "") + PUMP_LEAD).device("pump")
    assert plain.model.name == "steady"


def test_the_lead_that_senses_is_needed():
    without = KINDS["usb_device"].replace(SENSE_LEAD, "")
    assert codes_of(SMALL + without) == ["build/not-connected"]


def test_the_words_of_a_model_that_can_be_shed_say_how() -> None:
    assert "runs on surplus" in model_screen(Steady)
    assert "runs on surplus" not in model_screen(SteadyOnSurplus)
    assert "runs on surplus" not in model_screen(Transceiver)
