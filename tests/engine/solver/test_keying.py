"""Key-state columns: what they must reproduce exactly, and what they come to in cables."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from support.hard_models import Cell
from support.networks import TEXT, make_cable, make_device, make_settings, problem_of

from copperpath.plugin_api import Schedule
from copperpath.solver.compiled import solve_compiled
from copperpath.solver.keying import MOST_PRODUCTS, Columns, Radio, make_columns
from copperpath.station import Station
from copperpath_plugins.blocks.strip import Strip
from copperpath_plugins.loads.transceiver import Transceiver

STEPS = 6


def draw_radios(count: int, seed: int = 1) -> list[Radio]:
    random = np.random.default_rng([seed, count])
    radios = []
    for _ in range(count):
        mode = float(random.uniform(0.2, 1.0))
        square = float(random.uniform(mode**2, mode))
        radios.append(
            Radio(random.uniform(0.0, 1.0, STEPS) * (random.random(STEPS) < 0.8), mode, square)
        )
    return radios


def mean_of(columns: Columns, levels: np.ndarray) -> np.ndarray:
    """Weighted over the columns (time, radio)."""
    return np.asarray(np.einsum("tc,tcr->tr", columns.weights, levels))


@pytest.mark.parametrize("count", [*range(9), 63, 64, 70])
def test_the_weights_of_the_columns_add_up_to_one(count: int) -> None:
    columns = make_columns(draw_radios(count), STEPS)
    np.testing.assert_allclose(columns.weights.sum(axis=1), 1.0, rtol=0.0, atol=1e-14)


@pytest.mark.parametrize("count", range(1, 9))
def test_mean_and_mean_square_of_every_level_are_those_declared(count: int) -> None:
    radios = draw_radios(count)
    columns = make_columns(radios, STEPS)
    mean = np.stack([radio.share * radio.mode for radio in radios], axis=1)
    np.testing.assert_allclose(mean_of(columns, columns.levels), mean, rtol=0.0, atol=1e-14)
    square = np.stack([radio.share * radio.mode_square for radio in radios], axis=1)
    if 2**count > MOST_PRODUCTS:
        # In the columns where a radio only stands at its mean, the mean's square counts; those
        # columns' weights cancel: (count - 1) of them against 1 - count for the mean column.
        assert (columns.weights[:, columns.mean] == 1.0 - count).all()
    got = mean_of(columns, columns.levels**2)
    np.testing.assert_allclose(got, square, rtol=0.0, atol=1e-13)


@pytest.mark.parametrize("count", [1, 4, 5, 8])
def test_the_mean_column_is_the_mean_and_the_worst_has_everybody_keyed(count: int) -> None:
    radios = draw_radios(count)
    columns = make_columns(radios, STEPS)
    mean = np.stack([radio.share * radio.mode for radio in radios], axis=1)
    keyed = np.stack([radio.share > 0.0 for radio in radios], axis=1)
    np.testing.assert_allclose(columns.levels[:, columns.mean], mean, atol=1e-15)
    np.testing.assert_array_equal(columns.levels[:, columns.worst], keyed.astype(float))


def test_without_radios_there_is_one_column_of_weight_one() -> None:
    columns = make_columns([], STEPS)
    assert columns.weights.shape == (STEPS, 1)
    assert (columns.weights == 1.0).all()
    assert columns.levels.shape == (STEPS, 1, 0)


def radios_on_a_strip(count: int) -> tuple[Station, list[float], list[float], list[float]]:
    """Radios of unlike share on one strip; their receive and transmit currents and shares."""
    receive = [0.2 + 0.1 * k for k in range(count)]
    transmit = [2.0 + 0.7 * k for k in range(count)]
    shares = [0.1 + 0.08 * k for k in range(count)]
    devices = [
        make_device("pack", Cell, rest=13.2, ohm=0.03, refuses=0.0),
        make_device("strip", Strip, ways=float(count), contact=0.002),
    ]
    cables = [make_cable("pack.line", "strip.in", 0.01)]
    for k in range(count):
        devices.append(
            make_device(
                f"rig{k}",
                Transceiver,
                receive=receive[k],
                transmit=transmit[k],
                transmitting=Schedule((), shares[k]),
                mode="fm",
                works=(9.0, 15.0),
            )
        )
        cables.append(make_cable(f"strip.{k + 1}", f"rig{k}.line", 0.05))
    settings = make_settings(0.25)
    station = Station("rigs", settings, tuple(devices), tuple(cables), (), (), TEXT)
    return station, receive, transmit, shares


@pytest.mark.parametrize("count", [1, 3, 4, 5, 7])
def test_heat_in_cables_is_that_of_every_combination_of_keys(count: int) -> None:
    # The radios hold their currents, so the currents in the cables are known beforehand.
    station, receive, transmit, shares = radios_on_a_strip(count)
    problem = problem_of(station, 900.0)
    solution = solve_compiled(problem)
    nodes, weights = problem.network.main.nodes, problem.columns.weights[0]

    def heat(start: str, end: str, ohm: float) -> float:
        drop = solution.volts[0, :, nodes.index(start)] - solution.volts[0, :, nodes.index(end)]
        return float(np.dot(weights, drop**2 / ohm))

    trunk = 0.0
    for keyed in product((0, 1), repeat=count):
        chance = np.prod([s if k else 1.0 - s for s, k in zip(shares, keyed, strict=True)])
        amps = sum(transmit[k] if down else receive[k] for k, down in enumerate(keyed))
        trunk += float(chance) * amps**2 * 0.01
    assert heat("pack.line", "strip.in", 0.01) == pytest.approx(trunk, rel=1e-6)
    for k in range(count):
        square = shares[k] * transmit[k] ** 2 + (1.0 - shares[k]) * receive[k] ** 2
        assert heat(f"strip.{k + 1}", f"rig{k}.line", 0.05) == pytest.approx(
            square * 0.05, rel=1e-6
        )
