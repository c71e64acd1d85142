"""A vehicle's alternator, idling and on the road, and the starter battery beside it."""

from __future__ import annotations

import pytest
from support.device_runs import amps_into, imbalance, remembered, solved_by_both
from support.sample_devices import law_at, plain_site, settled

from copperpath.plugin_api import ParameterProblem, Schedule
from copperpath.study.survival import survive
from copperpath_plugins.sources.alternator import Alternator

BLEED = 1e-4


def given_at(volts: float, runs: float, driving: float, eased: float, hot: float = 1.0) -> float:
    """Amperes given, its own meter's left out."""
    values = settled(Alternator, running_current=70.0, idle_current=25.0, eased_voltage=12.4)
    return -law_at(Alternator, values, (volts,), (), (runs, driving, eased, hot))[0] + BLEED * volts


@pytest.mark.parametrize(
    ("volts", "runs", "driving", "eased", "amps"),
    [
        (13.0, 1.0, 0.0, 0.0, 25.0),
        (13.0, 1.0, 1.0, 0.0, 70.0),
        (13.0, 0.0, 1.0, 0.0, 0.0),
        (14.1, 1.0, 1.0, 0.0, 35.0),
        (14.3, 1.0, 1.0, 0.0, 0.0),
        (13.0, 1.0, 1.0, 1.0, 0.0),
        (12.0, 1.0, 1.0, 1.0, 70.0),
        (13.0, 1.0, 0.5, 0.0, 47.5),
        (13.0, 1.0, 1.0, 0.4, 42.0),
    ],
)
def test_it_gives_its_limit_below_the_voltage_that_its_regulator_holds(
    volts: float, runs: float, driving: float, eased: float, amps: float
) -> None:
    """0.2 V under 14.2 V at 70 A, so half of that at 14.1 V; shares of time weight the current."""
    assert given_at(volts, runs, driving, eased) == pytest.approx(amps, abs=1e-9)


def test_at_idle_it_gives_40_percent_unless_told() -> None:
    values = settled(Alternator, running_current=80.0)
    assert values["idle_amps"] == pytest.approx(32.0)


def test_heat_takes_its_share_of_the_current() -> None:
    values = settled(Alternator, running_current=80.0, current_coefficient=-0.004)
    hot = Alternator.drive(plain_site(50.0, 0.0), values)["hot"]
    assert hot == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("changed", "parameter"),
    [({"idle_current": 90.0}, "idle_current"), ({"eased_voltage": 15.0}, "eased_voltage")],
)
def test_more_at_idle_and_more_when_eased_are_refused(
    changed: dict[str, float], parameter: str
) -> None:
    with pytest.raises(ParameterProblem) as caught:
        settled(Alternator, running_current=70.0, **changed)
    assert caught.value.parameter == parameter
    assert caught.value.help


def test_hours_that_are_not_given_leave_the_engine_on_and_at_idle() -> None:
    values = settled(Alternator, running_current=70.0)
    assert values["on"] == Schedule((), 1.0)
    assert values["driving"] == Schedule((), 0.0)


VEHICLE = """station "Yard" {
    place 46.6 N, 10.3 E, 800 m
    starts 2026-06-19 06:00 +01:00
    lasts 24 h
    sky clear
    air 25 degC .. 25 degC
}
source engine : alternator { running_current 70 A; on 06:00 to 08:00 }
storage starter : lead_acid { capacity 60 Ah; kind flooded; charge 80 %; reserve 70 % }
load rig : steady { current 2 A; works 10.5 V .. 16 V }
cable engine -> starter { length 1 m; wire 16 mm2; fuse 100 A at starter }
cable starter -> rig { length 2 m; wire 4 mm2; fuse 10 A at starter }
"""


def test_charge_taken_beyond_the_starter_batterys_reserve_ends_what_was_planned() -> None:
    """From what it holds at 08:00 down to 70 %, at 2 A, and before the radio goes short. A share of
    its charge is a share of all there is, of which a rated discharge leaves some bound."""
    run = solved_by_both(VEHICLE, 600.0)
    charge = remembered(run, "starter", "charge")
    assert amps_into(run, "engine")[3] < -2.0
    assert abs(amps_into(run, "engine")[20]) < 0.01
    assert charge[12] > charge[0]
    facts = survive(run)
    assert facts.reserve_store == "starter"
    assert facts.short_step is None
    assert facts.reserve_step is not None
    all_there_is = float(run.problem.station.device("starter").values["most_charge"])
    hours = (charge[12] - 0.7) * all_there_is / 2.0 / 3600.0
    assert (facts.reserve_step - 12) / 6.0 == pytest.approx(hours, abs=0.2)
    assert imbalance(run) < 1e-6
