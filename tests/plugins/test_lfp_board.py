"""The protection board that locks itself off, and batteries of unlike voltage joined together."""

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
from support.small_station import PANEL, small_text

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

PACK = {"capacity": 12 * 3600.0, "resistance": 0.045}
WARM_K = 298.15
LEAD = "cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 5 A at pack }\n"


def lamp(amps: float, hours: str = "") -> str:
    return f"load lamp : steady {{ current {amps} A; works 9 V .. 15 V; {hours} }}\n" + LEAD


@pytest.mark.parametrize("volts", [0.0, 5.0, 11.0, 14.4])
def test_a_locked_battery_neither_gives_nor_takes(volts):
    values = settled(LithiumIronPhosphate, **PACK)
    assert law_at(LithiumIronPhosphate, values, (volts,), (0.5, WARM_K, 0, 1, 1), (WARM_K,)) == (0,)


def test_it_locks_below_the_cut_off_and_wakes_above_the_wake_voltage():
    values = settled(LithiumIronPhosphate, **PACK, cutoff=10.4, wake=12.0)

    def locks_and_wakes(volts: float) -> tuple[float, ...]:
        states = (0.5, WARM_K, 0, 0, 0)
        return signals_at(LithiumIronPhosphate, values, (volts,), states, (WARM_K,))[6:]

    assert locks_and_wakes(10.3) == (1.0, 0.0)
    assert locks_and_wakes(11.5) == (0.0, 0.0)
    assert locks_and_wakes(12.1) == (0.0, 1.0)


def test_a_board_that_wakes_below_its_cut_off_is_refused():
    with pytest.raises(ParameterProblem) as caught:
        settled(LithiumIronPhosphate, **PACK, cutoff=10.4, wake=10.0)
    assert caught.value.parameter == "wake"


def test_its_poles_read_nothing_once_it_has_locked():
    run = solved_by_both(small_text(lamp(1.0), lasts="4 h"))
    locked = remembered(run, "pack", "locked") > 0.5
    assert first_time(locked) == pytest.approx(120, abs=2)
    assert locked[122:].all()
    assert np.all(np.abs(volts_at(run, "pack", "line")[125:]) < 1e-3)


def test_a_controller_that_lives_from_it_never_brings_it_back():
    """Drained in the night by one ampere; the sun of the next day does nothing."""
    run = solved_by_both(small_text(lamp(1.0, "on 21:00 to 24:00") + PANEL, lasts="48 h"), 300.0)
    locked = remembered(run, "pack", "locked") > 0.5
    assert 13 * 12 < first_time(locked) < 16 * 12
    assert locked[-1]
    # 25 h after its start it is 09:00 with the sun high: no voltage, no current.
    assert abs(volts_at(run, "regulator", "battery")[25 * 12]) < 1e-3
    assert amps_into(run, "pack")[20 * 12 :].tolist() == [0.0] * (28 * 12)


def test_a_controller_that_is_live_brings_it_back():
    """Until ten to nine the panel feeds the lamp alone, at some 10 V, and the battery stays locked;
    then the lamp goes off, the controller holds its 14.4 V, and the battery wakes and charges."""
    text = small_text(lamp(2.6, "on 08:00 to 08:50") + PANEL, lasts="3 h", pack="charge 3 %")
    run = solved_by_both(text)
    locked, line = remembered(run, "pack", "locked") > 0.5, volts_at(run, "pack", "line")
    assert locked[30:51].all()
    assert np.all((line[30:50] > 9.0) & (line[30:50] < 12.0))
    assert line[50] > 12.0
    assert not locked[51:].any()
    assert np.all(amps_into(run, "pack")[30:51] == 0.0)
    assert remembered(run, "pack", "charge")[-1] > 0.2
    assert imbalance(run) < 1e-6


def joined(spare: str) -> str:
    return (
        f"storage spare : lfp {{ {spare}; temperature 25 degC; available 100 % }}\n"
        "cable pack -> spare { length 0.5 m; wire 6 mm2; fuse 100 A at pack }\n"
    )


def test_unlike_batteries_equalise_through_their_resistances():
    """13.3 V against 13.0 V through 20 and 45 mohm and the lead of 2 x 0.5 m x 3.30 mohm/m
    (IEC 60228 class 5): 4.4 A, less than the five that the emptier one takes."""
    pack, spare = "charge 80 %", "capacity 10 Ah; charge 30 %; resistance 45 mohm"
    run = solved_by_both(small_text(joined(spare), lasts="1 h", capacity="10 Ah", pack=pack))
    joint_ohm = run.branches[0].branch.ohm - 0.0033
    assert amps_into(run, "spare")[0] == pytest.approx(0.3 / (0.065 + 0.0033 + joint_ohm), rel=1e-6)
    assert 0.0 <= joint_ohm < 0.005
    assert imbalance(run) < 1e-6


def test_the_emptier_battery_takes_no_more_than_its_limit():
    pack, spare = "charge 100 %", "capacity 4 Ah; charge 10 %; resistance 45 mohm"
    run = solved_by_both(small_text(joined(spare), lasts="1 h", capacity="10 Ah", pack=pack))
    assert amps_into(run, "spare")[0] == pytest.approx(2.0)
    assert amps_into(run, "pack")[0] == pytest.approx(-2.0, abs=1e-6)


@pytest.mark.parametrize("cells", ["4", "8"])
def test_batteries_of_unlike_count_of_cells_find_an_operating_point(cells):
    """24 V joined to 12 V by mistake: the board's limit is what stands between them."""
    spare = f"capacity 10 Ah; charge 60 %; cells {cells}"
    text = small_text(joined(spare), lasts="2 h", capacity="10 Ah", pack="charge 20 %")
    run = solved_by_both(text)
    assert np.all(amps_into(run, "pack") <= 5.0 + 1e-9)
    assert np.all(amps_into(run, "pack") >= -1e-6)
    assert imbalance(run) < 1e-6
