"""Corners of an inquiry against those of a run, which are solved device by device, and by hand."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from support.building import SITE, station_of
from support.forty_devices import forty_devices
from support.networks import problem_of
from support.runs import HERON_BOG, LARKFELL, station_from_file, station_from_text

from copperpath.inquiry.alike import Point
from copperpath.inquiry.corner import nothing_offered, with_loads_off
from copperpath.inquiry.corners import best_offers
from copperpath.inquiry.inquiry import StationInquiry
from copperpath.plugin_api import NeverTogether, SetFact, SetWire
from copperpath.record.record import CornerFigure
from copperpath.solver.twin_newton import dense
from copperpath.solver.twin_offers import offers
from copperpath.study.corners import at_its_best, high_corner, low_corner, low_drives, low_states

EXAMPLES = [HERON_BOG, LARKFELL / "larkfell_spur.station", LARKFELL / "bigger_battery.station"]
TWO_RADIOS = (
    SITE
    + """storage pack : lfp { cells 4; capacity 20 Ah }
load one : transceiver { receive 0.4 A; transmit 6 A; transmitting 10 %; works 9 V .. 15 V }
load two : transceiver { receive 0.4 A; transmit 4 A; transmitting 10 %; works 9 V .. 15 V }
cable pack -> one { length 2 m; wire 1.5 mm2 }
cable one.line -> two { length 2 m; wire 1.5 mm2 }
"""
)
COLLAPSE = (
    SITE
    + """storage pack : lfp { cells 4; capacity 20 Ah }
load lamp : steady { power 6 W; works 9 V .. 15 V; priority 1 }
load pump : steady { power 300 W; works 2 V .. 15 V; priority 5 }
cable pack -> lamp { length 1 m; wire 1.5 mm2 }
cable pack -> pump { length 30 m; wire 1 mm2 }
"""
)


def close_to(inquiry: StationInquiry, volts: dict[str, float], figure: CornerFigure) -> None:
    terminal = inquiry.supply_terminal(figure.device)
    assert volts[terminal] == pytest.approx(figure.voltage_v, abs=1e-6)


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: str(Path(file).stem))
def test_the_low_corner_has_the_volts_of_the_run_s_low_corner(file: Path) -> None:
    """The coldest of a run's steps is within a millikelvin of the coldest air if they are short."""
    station = station_from_file(file)
    inquiry = StationInquiry(station)
    figures = low_corner(problem_of(station, 60.0))
    assert figures
    for figure in figures:
        close_to(inquiry, dict(inquiry.low.volts), figure)


def test_forty_devices_have_the_volts_that_each_device_solved_alone_gives_them() -> None:
    station = station_from_text(forty_devices())
    inquiry = StationInquiry(station)
    problem = inquiry.problem
    assert problem is not None
    for figure in low_corner(problem):
        close_to(inquiry, dict(inquiry.low.volts), figure)
    for figure in high_corner(problem):
        close_to(inquiry, dict(inquiry.high.volts), figure)


def test_what_two_radios_take_flows_in_their_common_lead() -> None:
    low = StationInquiry(station_of(TWO_RADIOS)).low
    assert low.amps["pack -> one"] == pytest.approx(10.0, abs=1e-6)
    assert low.amps["one.line -> two"] == pytest.approx(4.0, abs=1e-6)
    assert low.into["pack.line"] == pytest.approx(-10.0, abs=1e-6)
    # 2 m of 1.5 mm², both conductors at 13.3 ohm/km (IEC 60228).
    lost = low.volts["pack.line"] - low.volts["two.line"]
    assert lost == pytest.approx((10.0 + 4.0) * 4 * 13.3e-3, rel=1e-6)


def test_with_no_radio_keyed_they_take_what_they_receive_with() -> None:
    listening = StationInquiry(station_of(TWO_RADIOS)).listening
    assert listening.amps["pack -> one"] == pytest.approx(0.8, abs=1e-6)


def test_of_radios_that_are_never_keyed_together_the_thirstier_one_counts() -> None:
    inquiry = StationInquiry(station_of(TWO_RADIOS)).edited(NeverTogether(("one", "two")))
    assert inquiry.low.amps["pack -> one"] == pytest.approx(6.4, abs=1e-6)
    assert inquiry.low.amps["one.line -> two"] == pytest.approx(4.0, abs=1e-6)


def test_a_load_that_its_line_cannot_carry_stands_far_below_its_least_voltage() -> None:
    """Over 30 m of 1 mm² (1.17 ohm out and back) 13 V carry 36 W at the most."""
    low = StationInquiry(station_of(COLLAPSE)).low
    assert low.found
    assert low.volts["pump.line"] < 2.0
    assert low.volts["lamp.line"] > 12.0


def test_where_loads_have_to_be_switched_off_the_one_given_up_first_goes_first() -> None:
    inquiry = StationInquiry(station_of(COLLAPSE))
    problem = inquiry.problem
    assert problem is not None
    drives = [low_drives(data, frozenset()) for data in problem.main]
    states = [low_states(data, row) for data, row in zip(problem.main, drives, strict=True)]
    point = Point(problem.network.main, states, drives)
    low = with_loads_off(problem, point, nothing_offered(problem))
    assert low.opened == ("pump",)
    assert low.into["pump.line"] == 0.0
    assert low.amps["pack -> pump"] == pytest.approx(0.0, abs=1e-7)
    # Nothing is lost on the way of the lamp's own 6 W but in 1 m of 1.5 mm² (13.3 ohm/km).
    amps = low.amps["pack -> lamp"]
    assert amps * low.volts["lamp.line"] == pytest.approx(6.0, rel=1e-6)
    lost = low.volts["pack.line"] - low.volts["lamp.line"]
    assert lost == pytest.approx(amps * 2 * 13.3e-3, rel=1e-6)


@pytest.mark.parametrize("sizes", [("2.5 mm2", "4 mm2", "16 mm2")])
def test_sizes_solved_side_by_side_are_the_same_as_each_alone(sizes: tuple[str, ...]) -> None:
    station = station_of(TWO_RADIOS)
    together = StationInquiry(station).in_sizes("pack -> one", sizes)
    for size, found in zip(sizes, together, strict=True):
        alone = StationInquiry(StationInquiry(station).edited(SetWire("pack -> one", size)).station)
        names = sorted(alone.low.volts)
        ours = np.array([found.low.volts[name] for name in names])
        assert ours == pytest.approx(np.array([alone.low.volts[name] for name in names]), abs=1e-9)
        assert dict(found.low.amps) == pytest.approx(dict(alone.low.amps), abs=1e-6)


def test_a_thicker_lead_leaves_a_radio_more_volts() -> None:
    inquiry = StationInquiry(station_of(TWO_RADIOS))
    volts = [
        each.low.volts["two.line"] for each in inquiry.in_sizes("pack -> one", ["2.5 mm2", "6 mm2"])
    ]
    assert inquiry.low.volts["two.line"] < volts[0] < volts[1]


def test_another_fact_of_a_cable_leaves_the_corners_as_they_are() -> None:
    inquiry = StationInquiry(station_of(TWO_RADIOS))
    changed = inquiry.edited(SetFact("pack -> one", "fuse_interrupts_a", 1000.0))
    assert changed.low is inquiry.low
    assert changed.high is inquiry.high


def test_what_cannot_be_solved_has_corners_that_are_not_found() -> None:
    text = TWO_RADIOS + (
        "source gen : generator { rating 1 kW; on 17:00 to 21:00; tank 4 L }\n"
        "converter inv : inverter { rating 500 W }\n"
        "load kettle : mains_load { power 200 W }\n"
        "cable pack -> inv { length 1 m; wire 16 mm2 }\n"
        "cable pack -> gen.sense { length 1 m; wire 1 mm2 }\n"
        "cable gen.output -> kettle { length 1 m; wire 1.5 mm2 }\n"
        "cable inv.mains -> kettle { length 1 m; wire 1.5 mm2 }\n"
    )
    inquiry = StationInquiry(station_of(text))
    assert inquiry.problem is None
    corners = (inquiry.low, inquiry.sending, inquiry.listening, inquiry.high, inquiry.charging)
    assert not any(corner.found for corner in corners)
    assert not any(each.low.found for each in inquiry.in_sizes("pack -> one", ["4 mm2"]))


def test_without_a_store_the_source_gives_what_the_low_corner_takes() -> None:
    text = SITE + (
        "source bench : supply { voltage 13.8 V; limit 20 A }\n"
        "load rig : transceiver { receive 0.3 A; transmit 6 A; transmitting 10 % }\n"
        "cable bench -> rig { length 1 m; wire 2.5 mm2 }\n"
    )
    low = StationInquiry(station_of(text)).low
    assert low.amps["bench -> rig"] == pytest.approx(6.0, abs=1e-6)


def test_panels_alike_are_worked_out_once_and_offer_what_each_alone_does() -> None:
    panel = (
        "source sun{n} : photovoltaic {{\n"
        "    power {w} W; vmp 18 V; voc 22 V; isc {i} A; mount flat\n}}\n"
    )
    lines = [SITE, "storage pack : lfp { cells 4; capacity 100 Ah }\n"]
    for n, (watts, amps, metres) in enumerate([(100, 6, 5), (100, 6, 5), (50, 3, 5), (100, 6, 9)]):
        lines.append(panel.format(n=n, w=watts, i=amps))
        lines.append(f"converter c{n} : mppt_charger {{ output_limit 10 A; max_input 50 V }}\n")
        lines.append(f"cable sun{n} -> c{n}.panel {{ length {metres} m; wire 2.5 mm2 }}\n")
        lines.append(f"cable c{n}.battery -> pack {{ length 1 m; wire 4 mm2 }}\n")
    problem = StationInquiry(station_of("".join(lines))).problem
    assert problem is not None
    tables = best_offers(problem)
    for zone, (circuit, slots) in enumerate(zip(problem.network.zones, problem.zones, strict=True)):
        alone = offers(dense(circuit, at_its_best(problem, slots)), 1).tables[0]
        np.testing.assert_array_equal(tables[zone], alone)
    assert len({row.tobytes() for row in tables}) == 3
