"""The hand-written loop of the bench agrees with the engine's general loop.

It shares nothing with the engine but drives and offer tables, so it is a second opinion on laws,
slopes, elimination, damping and the advance of states as well.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from bench.hand_setup import STATES, Hand, HandRun, places, state_places
from bench.problems import ridge_post

from copperpath.solver.compiled import Prepared, prepare, step_through
from copperpath.solver.solution import first_carry

DAYS = 30.0
TOLERANCE = 1e-9
"""V, and states; about 1e-11 V is seen over a year."""


@pytest.fixture(scope="module")
def both() -> tuple[Prepared, Any, HandRun]:
    prepared = prepare(ridge_post(DAYS))
    general = step_through(prepared, first_carry(prepared.problem))[0]
    return prepared, general, Hand(prepared).run()


def test_volts_agree_at_every_node_and_minute(both: tuple[Prepared, Any, HandRun]) -> None:
    prepared, general, hand = both
    found = general.volts[:, 0, places(prepared.problem)]
    np.testing.assert_allclose(hand.volts, found, rtol=0.0, atol=TOLERANCE)


def test_states_agree_at_every_minute(both: tuple[Prepared, Any, HandRun]) -> None:
    prepared, general, hand = both
    found = general.states[:, state_places(prepared.problem)]
    np.testing.assert_allclose(hand.states, found, rtol=0.0, atol=TOLERANCE)


def test_the_month_has_cold_mornings_and_full_batteries(
    both: tuple[Prepared, Any, HandRun],
) -> None:
    states = both[2].states
    assert 0.0 < states[:, STATES.index(("pack", "cold"))].mean() < 1.0
    assert states[:, STATES.index(("pack", "charge"))].max() > 0.99
