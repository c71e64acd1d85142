"""Radios that are never keyed together: the corner and the worst instant against hand arithmetic.

Two radios on one battery of 20 mohm, each on 2 m of 1.5 mm² (0.0532 ohm out and back): keyed 6 A
and 4 A, receiving 0.4 A. Together they draw 10 A at worst; never together 6.4 A or 4.4 A.
"""

from __future__ import annotations

import numpy as np
import pytest
from support.networks import problem_of
from support.runs import solved, station_from_text
from support.small_station import small_text

from copperpath.network.refused import NetworkRefused
from copperpath.pipeline import run
from copperpath.study.corners import keyed_together, low_corner

RADIOS = """part radio : transceiver { receive 0.4 A; transmitting 10 %; works 9 V .. 15 V }
load rig : radio { transmit 6 A }
load relay : radio { transmit 4 A }
cable pack -> rig { length 2 m; wire 1.5 mm2 }
cable pack -> relay { length 2 m; wire 1.5 mm2 }
"""
NEVER = "never together rig, relay\n"
PACK_OHM = 0.020
LEAD_OHM = 2 * 2.0 * 0.0133


def text_with(line: str) -> str:
    return small_text(RADIOS + line, capacity="20 Ah", pack="reserve 20 %", lasts="2 h")


def rest_volts(charge: float) -> float:
    from copperpath_plugins.storage.lfp import REST_CHARGES, REST_VOLTS

    return float(np.interp(charge, REST_CHARGES, REST_VOLTS))


@pytest.mark.parametrize(("line", "amps"), [(NEVER, (6.4, 4.4)), ("", (10.0, 10.0))])
def test_in_the_low_corner_one_of_them_is_keyed(line: str, amps: tuple[float, float]) -> None:
    figures = low_corner(solved(station_from_text(text_with(line))).problem)
    corner = {each.device: each.voltage_v for each in figures}
    at_rest = rest_volts(0.201)
    rig = at_rest - amps[0] * PACK_OHM - 6.0 * LEAD_OHM
    relay = at_rest - amps[1] * PACK_OHM - 4.0 * LEAD_OHM
    assert corner["rig"] == pytest.approx(rig, abs=0.005)
    assert corner["relay"] == pytest.approx(relay, abs=0.005)


@pytest.mark.parametrize(("line", "amps"), [(NEVER, (6.4, 4.4)), ("", (10.0, 10.0))])
def test_at_the_worst_instant_one_of_them_is_keyed(line: str, amps: tuple[float, float]) -> None:
    """Between the worst instants of both the battery's own volts cancel: what is drawn tells."""
    run_ = solved(station_from_text(text_with(line)))
    station = run_.problem.station
    rig, relay = (
        run_.worst(run_.terminal_volts(station.device(name)))[0] for name in ("rig", "relay")
    )
    drawn = (amps[0] - amps[1]) * PACK_OHM + (6.0 - 4.0) * LEAD_OHM
    assert relay - rig == pytest.approx(drawn, abs=0.002)


def test_never_together_spares_what_the_other_would_draw_in_the_battery() -> None:
    volts = []
    for line in ("", NEVER):
        run_ = solved(station_from_text(text_with(line)))
        rig = run_.problem.station.device("rig")
        volts.append(run_.worst(run_.terminal_volts(rig))[0])
    assert volts[1] - volts[0] == pytest.approx(3.6 * PACK_OHM, abs=0.002)


def test_radios_that_cannot_take_turns_are_refused() -> None:
    text = text_with(NEVER).replace("transmitting 10 %", "transmitting 60 %")
    with pytest.raises(NetworkRefused, match="add up to 120%"):
        run(station_from_text(text))


def test_of_too_many_ways_each_radio_is_keyed_once_beside_the_thirstiest_of_the_other_groups() -> (
    None
):
    """Eleven pairs have 2048 ways of keying; twelve are left: the first, and each exchanged."""
    lines = ["part radio : transceiver { receive 0.1 A; transmitting 1 %; works 9 V .. 15 V }"]
    for each in range(11):
        lines += [f"load {n}{each} : radio {{ transmit {a} A }}" for n, a in (("a", 1), ("b", 2))]
        lines += [f"cable pack -> {n}{each} {{ length 1 m; wire 4 mm2 }}" for n in "ab"]
        lines.append(f"never together a{each}, b{each}")
    text = small_text("\n".join(lines) + "\n", capacity="200 Ah", lasts="2 h")
    problem = problem_of(station_from_text(text), 3600.0)
    first, *others = keyed_together(problem)
    assert first == {f"b{each}" for each in range(11)}
    assert [sorted(way - first) for way in others] == [[f"a{each}"] for each in range(11)]
    assert all(len(way) == 11 for way in others)
