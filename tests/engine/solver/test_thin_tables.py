"""Tables of offers that are completed on demand lead to what full tables lead to."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from support.networks import problem_of
from support.runs import station_from_text

from copperpath.plugin_api import FloatArray
from copperpath.solver.columns import SOLVED
from copperpath.solver.compiled import Prepared, prepare, solve_compiled, step_through
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.loop import Outputs
from copperpath.solver.problem import Problem
from copperpath.solver.solution import first_carry

HEAD = """
station "Thin tables" {{
    place 47.1 N, 10.9 E
    starts 2026-06-20 00:00 +01:00
    lasts 2 days
    sky clear
    air {air}
}}
storage pack : lfp {{ cells 4; capacity 60 Ah; charge {charge} }}
load lamp : steady {{ power 20 W; on 21:00 to 06:00 }}
cable pack -> hub.in {{ length 1 m; wire 10 mm2 }}
block hub : strip {{ ways 6 }}
cable hub.1 -> lamp {{ length 3 m; wire 1.5 mm2 }}
"""
PANEL = """
source sun : photovoltaic { power WATTS; vmp VMP; voc VOC; isc 7.2 A; mount 30 deg, south }
"""
ONE = """
converter first : mppt_charger { output_limit 12 A; max_input 60 V }
cable sun -> first.panel { length 6 m; wire 4 mm2 }
cable first.battery -> hub.2 { length 1 m; wire 6 mm2 }
"""
OTHER = """
converter second : mppt_charger { output_limit 12 A; max_input 60 V }
cable sun -> second.panel { length 12 m; wire 2.5 mm2 }
cable second.battery -> hub.3 { length 1 m; wire 6 mm2 }
"""
DIODE = """
block guard : diode { drop 0.5 V; rating 20 A }
cable sun -> guard.in { length 2 m; wire 4 mm2 }
cable guard.out -> first.panel { length 4 m; wire 4 mm2 }
"""
RADIO = """
load rig : transceiver { receive 1 A; transmit 20 A; mode fm; transmitting 10 % }
cable hub.4 -> rig { length 4 m; wire 4 mm2 }
"""


def panel(vmp: float) -> str:
    """A panel of this voltage at its rated power."""
    values = {"WATTS": f"{6.6 * vmp:.1f} W", "VMP": f"{vmp} V", "VOC": f"{1.22 * vmp:.2f} V"}
    text = PANEL
    for word, value in values.items():
        text = text.replace(word, value)
    return text


STATIONS = {
    "asleep at dawn": HEAD.format(air="2 degC .. 16 degC", charge="60 %") + panel(18.0) + ONE,
    "hot panels": HEAD.format(air="24 degC .. 42 degC", charge="60 %") + panel(15.6) + ONE,
    "shared panels": HEAD.format(air="24 degC .. 42 degC", charge="60 %")
    + panel(15.6)
    + ONE
    + OTHER,
    "an empty battery": HEAD.format(air="2 degC .. 16 degC", charge="1 %") + panel(16.2) + ONE,
    "hot panels and a radio": HEAD.format(air="24 degC .. 42 degC", charge="60 %")
    + panel(15.6)
    + ONE
    + RADIO,
}


@cache
def problem(name: str) -> Problem:
    return problem_of(station_from_text(STATIONS[name]), 300.0)


@cache
def stepped(name: str) -> tuple[Prepared, Outputs]:
    """A station stepped through with thin tables."""
    prepared = prepare(problem(name))
    return prepared, step_through(prepared, first_carry(problem(name)))[0]


def floors(name: str) -> FloatArray:
    """The floor of each seeking terminal at the points found (time, column, seeker)."""
    prepared, out = stepped(name)
    found = np.zeros((*out.volts.shape[:2], len(prepared.problem.network.seekers)))
    first = 0
    for data in prepared.problem.main:
        names = [state.name for state in data.states]
        if data.slot.seeks >= 0:
            shape, values = data.shape, data.values
            awake = out.states[:-1, first + names.index("awake"), None]
            volts = out.volts[:, :, data.slot.kept[shape.v_fields.index("battery")]]
            asleep = values["start_headroom"] - values["headroom"]
            found[:, :, data.slot.seeks] = volts + values["headroom"] + (1.0 - awake) * asleep
        first += len(names)
    return found


def bests(name: str) -> FloatArray:
    """Best voltages in the light, infinite in the dark (time, seeker)."""
    prepared = stepped(name)[0]
    points = prepared.supplies.points
    return np.where(points[:, :, OFFER_POINTS] > 0.0, points[:, :, 0], np.inf)


def completed(name: str) -> np.ndarray:
    """Which tables stepping has completed (time, seeker)."""
    thin = prepare(problem(name)).supplies.full == 0
    return np.asarray(thin & (stepped(name)[0].supplies.full == 1))


@pytest.mark.parametrize("name", STATIONS)
def test_thin_tables_lead_to_what_full_ones_lead_to(name: str) -> None:
    prepared = prepare(problem(name))
    prepared.supplies.complete(range(problem(name).steps))
    assert prepared.supplies.full.all()
    full = step_through(prepared, first_carry(problem(name)))[0]
    out = stepped(name)[1]
    np.testing.assert_allclose(out.volts, full.volts, rtol=0.0, atol=1e-9)
    np.testing.assert_allclose(out.states, full.states, rtol=0.0, atol=1e-9)
    np.testing.assert_array_equal(out.outcome, full.outcome)


@pytest.mark.parametrize("name", STATIONS)
def test_where_a_floor_lies_above_the_best_voltage_the_table_is_full(name: str) -> None:
    above = (floors(name) > bests(name)[:, None]).any(axis=1)
    # What an empty battery makes hard to solve is completed as well; its floor lies low.
    assert above.any() or (stepped(name)[1].outcome > SOLVED).any()
    assert completed(name)[above].all()


@pytest.mark.parametrize("name", STATIONS)
def test_no_other_table_is_completed(name: str) -> None:
    """But in and after steps that were hard to solve, and those at whose beginning the floor still
    lies above."""
    above = (floors(name) > bests(name)[:, None]).any(axis=(1, 2))
    before = np.zeros(above.shape, dtype=bool)
    before[1:] = (floors(name)[:-1] > bests(name)[1:, None]).any(axis=(1, 2))
    hard = (stepped(name)[1].outcome > SOLVED).any(axis=1)
    hard[1:] |= hard[:-1]
    needless = completed(name).any(axis=1) & ~(above | before | hard)
    assert not needless.any()


def test_ports_of_one_zone_are_completed_together() -> None:
    made = completed("shared panels")
    assert made.any()
    np.testing.assert_array_equal(made[:, 0], made[:, 1])


def test_most_tables_of_a_station_with_cool_panels_stay_thin() -> None:
    prepared = prepare(problem("asleep at dawn"))
    lit = (prepared.supplies.full == 0).sum()
    assert 0 < completed("asleep at dawn").sum() < 0.1 * lit


def test_stepping_once_more_completes_nothing_and_gives_the_same() -> None:
    prepared = prepare(problem("hot panels"))
    first = step_through(prepared, first_carry(problem("hot panels")))[0]
    marks = prepared.supplies.full.copy()
    again = step_through(prepared, first_carry(problem("hot panels")))[0]
    np.testing.assert_array_equal(prepared.supplies.full, marks)
    np.testing.assert_allclose(again.volts, first.volts, rtol=0.0, atol=1e-9)


def test_a_completed_table_does_not_depend_on_those_completed_before() -> None:
    one, other = prepare(problem("hot panels")), prepare(problem("hot panels"))
    one.supplies.complete([150])
    other.supplies.complete(range(problem("hot panels").steps))
    np.testing.assert_array_equal(one.supplies.points[150], other.supplies.points[150])


def test_runs_that_share_panels_leave_their_tables_to_each_other_as_they_were() -> None:
    fresh = prepare(problem("hot panels")).supplies.full.copy()
    solve_compiled(problem("hot panels"))
    np.testing.assert_array_equal(prepare(problem("hot panels")).supplies.full, fresh)
    assert not fresh.all()


def test_behind_a_diode_every_table_is_full_from_the_start() -> None:
    text = STATIONS["hot panels"].replace("cable sun -> first.panel { length 6 m; wire 4 mm2 }", "")
    prepared = prepare(problem_of(station_from_text(text + DIODE), 1800.0))
    assert prepared.supplies.full.all()
