"""Operating points against equations written apart from the solver: the currents close, and the
point is one to which the voltages return after a nudge."""

from __future__ import annotations

import warnings
from collections.abc import Callable

import numpy as np
import pytest
from support.equations import Moment, leaving, lowest_eigenvalue, moments, volts_by_name
from support.hard_models import Cell, Charger, Eater, Supply, Valve
from support.networks import (
    TEXT,
    chattering_station,
    make_cable,
    make_device,
    make_settings,
    problem_of,
    random_station,
)

from copperpath.plugin_api import FloatArray
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Carry, Outcome
from copperpath.station import Cable, Device, Station
from copperpath_plugins.blocks.strip import Strip
from copperpath_plugins.converters.step_down import StepDown

MOST_A = 1e-6
"""What may be left over at a node [A]."""
LEAST_S = -1e-7
"""Zero, but for the rounding of eigenvalues; the leak alone gives 1e-9 S."""
START_V = 13.0


def assert_sound(problem: Problem, picks: list[tuple[int, int]]) -> None:
    """The currents close and the point is stable at these steps and columns."""
    solution = solve_compiled(problem)
    for step, column in picks:
        if solution.outcome[step, column] == Outcome.SKIPPED:
            continue
        assert solution.outcome[step, column] != Outcome.NOT_SOLVED
        moment = moments(problem, solution, step, column)
        main, whole = volts_by_name(problem, solution, step, column)
        rest = leaving(problem.station, whole, moment)
        worst = max(rest, key=lambda name: abs(rest[name]))
        assert abs(rest[worst]) < MOST_A, (step, column, worst, rest[worst])
        assert lowest_eigenvalue(problem.station, main, moment) > LEAST_S, (step, column)


@pytest.mark.parametrize("seed", range(300, 330))
def test_currents_close_and_points_are_stable_on_random_stations(seed: int) -> None:
    problem = problem_of(random_station(seed, 16, 600.0), 600.0)
    columns = problem.columns
    assert_sound(problem, [(0, columns.mean), (7, columns.worst), (15, 0)])


@pytest.mark.parametrize("seed", range(300, 320))
def test_currents_close_and_points_are_stable_on_stations_that_chatter(seed: int) -> None:
    problem = problem_of(chattering_station(seed, 24), 300.0)
    columns = problem.columns
    assert_sound(problem, [(3, columns.worst), (12, columns.mean), (23, 0)])


# ---- two families of networks that stop plain iterations --------------------------------------


def draw_network(seed: int) -> Station:
    """A tree with some loops closed: cells (half refuse charge), limited supplies, valves and
    loads that hold their power."""
    random = np.random.default_rng([seed, 2])
    count = int(random.integers(4, 14))
    devices: list[Device] = [
        make_device(f"joint{k}", Strip, ways=1.0, contact=0.001) for k in range(count)
    ]
    cables: list[Cable] = []

    def ohm() -> float:
        return float(10.0 ** random.uniform(-2.0, -0.3))

    for k in range(1, count):
        cables.append(make_cable(f"joint{random.integers(k)}.in", f"joint{k}.in", ohm()))
    for _ in range(random.integers(0, 3)):
        one, other = random.choice(count, 2, replace=False)
        cables.append(make_cable(f"joint{one}.in", f"joint{other}.1", ohm()))

    def put(device: Device, terminal: str = "line") -> None:
        devices.append(device)
        joint = random.integers(count)
        cables.append(make_cable(f"joint{joint}.in", f"{device.name}.{terminal}", ohm()))

    for k in range(random.integers(1, 4)):
        values = {"rest": random.uniform(12.0, 13.4), "ohm": random.uniform(0.02, 0.2)}
        put(make_device(f"cell{k}", Cell, refuses=float(random.integers(2)), **values))
    for k in range(random.integers(0, 3)):
        values = {"set": random.uniform(13.0, 14.6), "droop": random.uniform(0.01, 0.1)}
        put(make_device(f"supply{k}", Supply, limit=random.uniform(0.5, 8.0), **values))
    for k in range(random.integers(0, 2)):
        put(make_device(f"valve{k}", Valve, ohm=0.02), "from")
        joint = random.integers(count)
        cables.append(make_cable(f"valve{k}.to", f"joint{joint}.in", ohm()))
    for k in range(random.integers(1, 6)):
        watts, lowest = random.uniform(1.0, 25.0), random.uniform(9.0, 10.8)
        put(make_device(f"eater{k}", Eater, watts=watts, lowest=lowest))
    return Station("network", make_settings(0.25), tuple(devices), tuple(cables), (), (), TEXT)


def draw_chain(seed: int) -> Station:
    """A cell, a charger whose input folds back, a second cell, a step-down, loads."""
    random = np.random.default_rng([seed, 3])

    def ohm() -> float:
        return float(10.0 ** random.uniform(-2.3, -0.5))

    devices = [
        make_device(
            "first",
            Cell,
            rest=random.uniform(12.0, 13.4),
            ohm=random.uniform(0.01, 0.1),
            refuses=0.0,
        ),
        make_device(
            "charger",
            Charger,
            set=random.uniform(13.8, 14.6),
            droop=0.02,
            limit=random.uniform(2.0, 20.0),
            low=random.uniform(11.0, 12.2),
            span=random.uniform(0.3, 1.0),
            efficiency=0.9,
        ),
        make_device(
            "second",
            Cell,
            rest=random.uniform(12.0, 13.4),
            ohm=random.uniform(0.02, 0.2),
            refuses=float(random.integers(2)),
        ),
        make_device(
            "fiver",
            StepDown,
            output=5.0,
            output_limit=random.uniform(1.0, 5.0),
            input=(random.uniform(7.0, 11.0), 30.0),
        ),
        make_device("phone", Eater, watts=random.uniform(0.5, 20.0), lowest=4.5),
        make_device("rig", Eater, watts=random.uniform(1.0, 60.0), lowest=10.5),
    ]
    ends = [
        ("first.line", "charger.from"),
        ("charger.to", "second.line"),
        ("second.line", "fiver.in"),
        ("fiver.out", "phone.line"),
        ("second.line", "rig.line"),
    ]
    cables = tuple(make_cable(start, end, ohm()) for start, end in ends)
    return Station("chain", make_settings(0.25), tuple(devices), cables, (), (), TEXT)


def solved_from_13_volts(station: Station) -> dict[str, float]:
    """Node voltages of a station's one step, every node started at 13 V."""
    problem = problem_of(station, 900.0)
    nodes, solved = problem.network.main.nodes, len(problem.network.main.merged.nodes)
    start = Carry(np.zeros(0), np.full((1, solved), START_V), np.zeros((0, 2)))
    solution = solve_compiled(problem, start)
    assert solution.outcome[0, 0] != Outcome.NOT_SOLVED
    return dict(zip(nodes, solution.volts[0, 0].tolist(), strict=True))


def somebody_elses_point(station: Station, moment: Moment, names: list[str]) -> FloatArray | None:
    """What general root finding makes of the same equations from 13 V; None if it gives up."""
    from scipy.optimize import root

    def rest(volts: FloatArray) -> list[float]:
        return list(
            leaving(station, dict(zip(names, volts.tolist(), strict=True)), moment).values()
        )

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        found = root(rest, np.full(len(names), START_V), method="hybr", options={"xtol": 1e-13})
    return np.asarray(found.x) if max(np.abs(rest(found.x))) < MOST_A else None


@pytest.mark.parametrize(
    ("draw", "seed"),
    [
        *(
            pytest.param(
                draw_network, seed, id=f"network-{seed}", marks=[pytest.mark.long] * (seed >= 60)
            )
            for seed in range(600)
        ),
        *(
            pytest.param(
                draw_chain, seed, id=f"chain-{seed}", marks=[pytest.mark.long] * (seed >= 50)
            )
            for seed in range(500)
        ),
    ],
)
def test_networks_that_stop_plain_iterations_are_solved(
    draw: Callable[[int], Station], seed: int
) -> None:
    station = draw(seed)
    volts = solved_from_13_volts(station)
    moment = Moment({}, {}, {})
    assert max(map(abs, leaving(station, volts, moment).values())) < MOST_A
    assert lowest_eigenvalue(station, volts, moment) > LEAST_S


def test_where_general_root_finding_gives_a_stable_point_it_is_ours() -> None:
    compared = 0
    for seed in range(30):
        station = draw_network(seed)
        ours = solved_from_13_volts(station)
        moment, names = Moment({}, {}, {}), list(ours)
        theirs = somebody_elses_point(station, moment, names)
        if theirs is None:
            continue
        point = dict(zip(names, theirs.tolist(), strict=True))
        if lowest_eigenvalue(station, point, moment) > LEAST_S:
            np.testing.assert_allclose(list(ours.values()), theirs, rtol=0.0, atol=1e-4)
            compared += 1
    assert compared >= 10
