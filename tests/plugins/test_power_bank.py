"""The power bank: what its label means, when it sleeps, how it wakes and is charged."""

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
from support.sample_devices import settled
from support.small_station import SITE

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.storage.power_bank import PowerBank

BANK = """storage bank : power_bank {{
    rated_charge 10000 mAh; temperature 25 degC; available 100 %; self_discharge 0 %; {more}
}}
"""
FIVE = """source wall : supply {{ voltage 5.1 V; limit 3 A; {hours} }}
cable wall -> bank.in {{ length 0.5 m; wire 0.5 mm2; fuse 5 A at wall }}
"""


def gadget(amps: float, hours: str = "") -> str:
    return (
        f"load gadget : steady {{ current {amps} A; works 4.5 V .. 5.5 V; {hours} }}\n"
        "cable bank -> gadget { length 0.5 m; wire 0.5 mm2; fuse 5 A at bank }\n"
    )


def station(rest: str, lasts: str, more: str = "") -> str:
    return SITE.format(lasts=lasts, sky="clear", more="") + BANK.format(more=more) + rest


def test_ten_ampere_hours_of_the_label_are_some_six_and_a_half_at_five_volts():
    """37 Wh times 88 % over 5 V, less idle current and what the cells lose inside: 6.2 to 6.5 Ah.
    A gadget of one ampere runs as many hours."""
    run = solved_by_both(station(gadget(1.0), "8 h"))
    given = np.maximum(-amps_into(run, "bank"), 0.0)
    hours = float(np.sum(given)) / 60.0
    assert 6.1 < hours < 6.5
    assert volts_at(run, "bank", "out")[10] == pytest.approx(5.0 - 0.05, abs=1e-3)
    assert imbalance(run) < 1e-6


def test_charge_and_energy_of_a_label_are_the_same_at_3_7_volts():
    by_charge = settled(PowerBank, rated_charge=10 * 3600.0)["capacity"]
    by_energy = settled(PowerBank, rated_energy=37 * 3600.0)["capacity"]
    assert by_charge == pytest.approx(by_energy)
    assert by_charge == 36_000.0


def test_a_tracker_of_a_few_milliamperes_is_without_power_once_it_sleeps():
    """30 mA are less than the 60 that keep it awake: off after a minute, though it is full."""
    run = solved_by_both(station(gadget(0.03), "6 h"))
    asleep = remembered(run, "bank", "asleep") > 0.5
    assert first_time(asleep) == 1
    assert asleep[1:].all()
    assert np.all(np.abs(volts_at(run, "bank", "out")[2:]) < 1e-3)
    assert remembered(run, "bank", "charge")[-1] > 0.999


def test_one_that_never_sleeps_carries_the_same_tracker():
    run = solved_by_both(station(gadget(0.03), "6 h", "least_current 0 A"))
    assert not (remembered(run, "bank", "asleep") > 0.5).any()
    assert np.all(volts_at(run, "bank", "out") > 4.9)


def test_pressing_its_button_wakes_it_and_a_pause_of_the_load_sends_it_back_to_sleep():
    """The gadget runs from 08:00 to 08:30 and again from 09:00 on; in between the bank falls
    asleep, and only the button, pressed at 10:00, brings the gadget back."""
    hours = "on 08:00 to 08:30, 09:00 to 12:00"
    run = solved_by_both(station(gadget(0.5, hours), "3 h", "pressed 10:00 to 10:02"))
    volts = volts_at(run, "bank", "out")
    assert np.all(volts[:30] > 4.9)
    assert np.all(np.abs(volts[32:119]) < 1e-3)
    assert np.all(volts[122:] > 4.9)


def test_a_charger_wakes_it_and_fills_it_within_its_limit():
    """2 A at 5.1 V and 90 % are some 9 W: 2.4 A into cells at 3.8 V, 6.5 Ah in under three
    hours, 98 % after five."""
    run = solved_by_both(
        station(gadget(0.0) + FIVE.format(hours="on 09:00 to 24:00"), "6 h", "charge 30 %")
    )
    charge, asleep = remembered(run, "bank", "charge"), remembered(run, "bank", "asleep") > 0.5
    taken = amps_into(run, "bank", 1)
    assert asleep[5:60].all()
    assert not asleep[62:].any()
    assert taken[70] == pytest.approx(2.0, abs=0.02)
    assert np.all(taken < 2.0 + 1e-6)
    stored = (charge[121] - charge[61]) * 37.0
    assert stored == pytest.approx(0.9 * 9.9, rel=0.06)
    assert charge[-1] > 0.98
    assert imbalance(run) < 1e-6


@pytest.mark.parametrize(("passes", "works"), [("yes", True), ("no", False)])
def test_what_passes_through_while_it_is_charged(passes, works):
    rest = gadget(0.5) + FIVE.format(hours="")
    run = solved_by_both(station(rest, "1 h", f"charge 50 %; pass_through {passes}"))
    assert bool(np.all(volts_at(run, "bank", "out")[2:] > 4.9)) is works
    assert bool(np.all(np.abs(volts_at(run, "bank", "out")[2:]) < 1e-3)) is not works
    assert imbalance(run) < 1e-6


def test_an_empty_one_whose_board_has_locked_is_woken_by_its_charger():
    rest = gadget(1.0) + FIVE.format(hours="on 12:00 to 24:00")
    run = solved_by_both(station(rest, "6 h", "charge 20 %; pass_through yes"))
    locked = remembered(run, "bank", "locked") > 0.5
    assert locked[3 * 60 : 4 * 60].all()
    assert not locked[4 * 60 + 3 :].any()
    assert volts_at(run, "bank", "out")[-1] > 4.9


@pytest.mark.parametrize("given", [{}, {"rated_charge": 3.6e4, "rated_energy": 1.3e5}])
def test_one_rating_and_no_more_must_be_given(given):
    with pytest.raises(ParameterProblem, match="`rated_charge`"):
        settled(PowerBank, **given)
