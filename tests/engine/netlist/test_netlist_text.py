"""What stands in a netlist, and what becomes of it in the simulator."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from support.networks import TEXT, make_cable, make_device, make_settings, problem_of
from support.runs import HERON_BOG, station_from_file
from support.simulator import simulated

from copperpath.netlist import operating_point as operating_point_module
from copperpath.netlist.circuit_lines import remark
from copperpath.netlist.instant import netlist_at
from copperpath.netlist.operating_point import Netlist, operating_point
from copperpath.plugin_api import Mount
from copperpath.report import run_screen
from copperpath.site import make_site
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.problem import Problem
from copperpath.station import Station
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

AMPERE_HOUR = 3600.0


def lamp_station(hours: float = 1.0, starts_at: float = 12.0, *, panel: bool = False) -> Station:
    """A battery at rest voltage 13.2 V (60 % charged) behind 20 mohm, 30 mohm of cable and a lamp
    of 2.95 ohm: 13.2 V / 3 ohm = 4.4 A."""
    devices = [
        make_device(
            "pack", LithiumIronPhosphate, capacity=50 * AMPERE_HOUR, charge=0.6, resistance=0.02
        ),
        make_device("lamp", Steady, resistance=2.95, works=(9.0, 15.0)),
    ]
    cables = [make_cable("pack.line", "lamp.line", 0.03)]
    if panel:
        label = {"power": 28.0, "vmp": 17.6, "voc": 21.4, "isc": 1.75, "mount": Mount(0, 180)}
        devices.append(make_device("sun", Photovoltaic, **label))
        devices.append(make_device("regulator", MpptCharger, output_limit=5.0, max_input=30.0))
        cables.append(make_cable("sun.out", "regulator.panel", 0.05))
        cables.append(make_cable("regulator.battery", "pack.line", 0.01))
    settings = make_settings(hours, starts_at, air_c=(25.0, 25.0))
    return Station("lamp", settings, tuple(devices), tuple(cables), (), (), TEXT)


def first_step(station: Station, opened: tuple[int, ...] = ()) -> tuple[Problem, Netlist]:
    """The problem, and the netlist of its first step."""
    problem = problem_of(station, 600.0)
    solution = solve_compiled(problem)
    return problem, operating_point(problem, solution, 0, 0, opened=opened)


def test_the_simulator_finds_what_is_worked_out_by_hand(tmp_path: Path) -> None:
    problem, netlist = first_step(lamp_station())
    found = simulated(netlist.text, tmp_path)
    lamp = netlist.main.nodes[problem.network.main.nodes.index("lamp.line")]
    # The leak of 1e-9 S at two nodes takes 13 nA each.
    assert found[f"v({lamp})"][0] == pytest.approx(4.4 * 2.95, rel=1e-8)
    assert found[f"i(@{netlist.main.resistors[0]}[i])"][0] == pytest.approx(4.4, rel=1e-7)


def test_a_device_that_is_taken_off_has_no_source_and_takes_nothing(tmp_path: Path) -> None:
    problem, netlist = first_step(lamp_station(), opened=(1,))
    assert problem.main[1].slot.device.name == "lamp"
    assert netlist.main.sources[1] == ()
    found = simulated(netlist.text, tmp_path)
    lamp = netlist.main.nodes[problem.network.main.nodes.index("lamp.line")]
    # All that flows is the leak, 13 nA, which drops less than a nanovolt.
    assert found[f"v({lamp})"][0] == pytest.approx(13.2, abs=2e-9)


def test_the_panel_side_is_a_part_of_its_own_held_at_its_port() -> None:
    _, netlist = first_step(lamp_station(panel=True))
    assert netlist.zones[0].ports == ("vz1port1",)
    assert "\nvz1port1 z1n" in netlist.text


def test_a_dark_panel_side_is_not_held() -> None:
    night = replace(lamp_station(starts_at=1.0, panel=True).site, latitude_deg=-60.0)
    problem = problem_of(replace(lamp_station(panel=True), site=night), 600.0)
    solution = solve_compiled(problem)
    assert solution.tops[0][0] == 0.0
    netlist = operating_point(problem, solution, 0, 0)
    assert netlist.zones[0].ports == ()
    assert "it is dark" in netlist.text


def test_remarks_cannot_become_commands() -> None:
    lines = remark("a title\n.control\nshell ls\n*# more ⚡")
    assert all(line.startswith("* ") for line in lines)
    assert all(line.isascii() for line in lines)
    assert not any(line.startswith("*#") for line in lines)


def test_the_title_of_a_station_stays_on_one_line() -> None:
    station = replace(lamp_station(), title="two\n.include other " + 40 * "long ")
    _, netlist = first_step(station)
    lines = netlist.text.splitlines()
    assert lines[0].startswith("* copperpath: two?.include other long")
    assert lines[1].startswith("* The step of 600 s from 2026-06-19 12:00:00 +0300 on")


def test_the_caution_is_that_of_the_run_screen() -> None:
    assert operating_point_module.CAUTION == run_screen.CAUTION


def test_lines_are_at_most_a_hundred_signs_of_plain_ascii() -> None:
    netlist = netlist_at(station_from_file(HERON_BOG))
    assert netlist.text.isascii()
    assert max(len(line) for line in netlist.text.splitlines()) <= 100


def test_what_comes_after_the_instant_changes_nothing() -> None:
    station = station_from_file(HERON_BOG)
    problem = problem_of(station, 60.0)
    solution = solve_compiled(problem)
    step = 17 * 60
    whole = operating_point(problem, solution, step, problem.columns.worst)
    until = netlist_at(station, after_s=step * 60.0 + 59.0, column="worst")
    assert until.text == whole.text


def test_the_site_is_made_for_as_long_as_it_is_run() -> None:
    station = station_from_file(HERON_BOG)
    short = replace(station.site, lasts_s=600.0)
    full = make_site(station.site, 60.0)
    np.testing.assert_array_equal(make_site(short, 60.0).air_k, full.air_k[:10])
