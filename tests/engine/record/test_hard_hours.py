"""Hours in which a station is hardest to solve, from its text: the energy adds up, and what is said
is what happens."""

from __future__ import annotations

import numpy as np
import pytest
from support.runs import ledger_of, solved, station_from_text
from support.small_station import PANEL, run_text, small_text

LAMP = (
    "load lamp : steady {{ power {watts} W; works 10 V .. 15 V }}\n"
    "cable pack -> lamp {{ length 1 m; wire 1.5 mm2; fuse 10 A at pack }}\n"
)
PLENTY = PANEL.replace("60 W", "120 W").replace("3.75 A", "7.5 A").replace("5 A;", "10 A;")


def text(watts: float, pack: str, **more: str) -> str:
    return small_text(PLENTY + LAMP.format(watts=watts), pack=pack, **more)


@pytest.mark.parametrize("executor", ["compiled", "twin"])
def test_a_cold_battery_takes_nothing_while_the_sun_carries_the_load(executor: str) -> None:
    station = station_from_text(
        text(5.0, "charge 60 %", lasts="2 h", capacity="20 Ah").replace(
            "temperature 25 degC", "temperature -10 degC"
        )
    )
    run = solved(station, 600.0, executor)
    assert ledger_of(run).worst_step_share < 1e-9
    # The first step: the controller still sleeps.
    pack = run.flows["pack"].amps[0][1:]
    assert np.abs(pack).max() < 1e-6
    volts = run.terminal_volts(station.device("pack"))[1:]
    assert volts.min() > 14.3
    assert run.flows["lamp"].taken[1:].min() == pytest.approx(5.0, rel=1e-9)


@pytest.mark.parametrize("executor", ["compiled", "twin"])
def test_an_open_battery_with_less_sun_than_load_leaves_the_load_without(executor: str) -> None:
    station = station_from_text(
        text(60.0, "charge 4 %", lasts="2 h", capacity="20 Ah", sky="10 % of clear")
    )
    run = solved(station, 300.0, executor)
    assert ledger_of(run).worst_step_share < 1e-9
    lamp, pack, sun = (run.flows[name] for name in ("lamp", "pack", "panel"))
    assert lamp.taken[1] == pytest.approx(60.0)
    # Empty: nothing comes out of the battery, the sun is too weak for the lamp, so it is off, and
    # the live controller wakes the battery's board and charges it.
    open_ = (np.abs(pack.amps[0]) < 1e-9) & (lamp.taken == 0.0)
    assert open_.any()
    assert (lamp.taken[-6:] == 0.0).all()
    assert pack.amps[0][-6:].min() > 0.1
    assert sun.taken.min() > -60.0


def test_the_finding_then_names_load_time_and_what_the_sun_had() -> None:
    record = run_text(text(60.0, "charge 4 %", lasts="2 h", capacity="20 Ah", sky="10 % of clear"))
    found = {finding.rule: finding for finding in record.findings}
    message = found["asks-more-than-can-be-had"].message
    assert "`lamp` asks 60 W at 10 V or more, but the most to be had there is" in message
    assert "Fri 19 June" in message


TWO = """storage other : lfp {
    capacity 20 Ah; charge 20 %; temperature 25 degC; available 100 %; resistance 20 mohm
}
cable pack -> other { length 0.5 m; wire 6 mm2; fuse 60 A at pack }
"""


@pytest.mark.parametrize("executor", ["compiled", "twin"])
def test_a_full_battery_pushes_into_an_emptier_one_what_their_resistances_allow(
    executor: str,
) -> None:
    """13.6 V and 12.9 V at rest over 20 + 20 mohm and 1 m of 6 mm² at 3.30 mohm/m and a fuse; the
    emptier one takes at most half its capacity in an hour, 10 A."""
    station = station_from_text(small_text(TWO, lasts="1 h", capacity="20 Ah"))
    run = solved(station, 60.0, executor)
    assert ledger_of(run).worst_step_share < 1e-9
    volts = 13.6 - 12.9
    ohm = 0.040 + station.cables[0].resistance_ohm
    expected = min(volts / ohm, 10.0)
    assert run.flows["other"].amps[0][0, 0] == pytest.approx(expected, rel=2e-3)


def test_that_is_a_danger_with_the_current_named() -> None:
    record = run_text(small_text(TWO, lasts="1 h", capacity="20 Ah"))
    (found,) = (f for f in record.findings if f.rule == "stores-feed-each-other")
    assert "`pack` pushes 10.0 A into `other` on Fri 19 June 08:00" in found.message
