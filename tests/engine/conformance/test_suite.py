"""The conformance suite: good models pass, and each fault is found by the check meant for it."""

from __future__ import annotations

import numpy as np
import pytest
from support.breaching_models import BREACHING, AsksIf, PushesBackwards, RefusesAll
from support.conforming_models import CONFORMING, Cell, Lamp

from copperpath.conformance import CHECKS, assert_conforms, examine
from copperpath.conformance.breach import examination_text
from copperpath.conformance.drawing import build_declared, draw_devices
from copperpath.conformance.suite import NOT_EXAMINED
from copperpath.plugin_api import Model


@pytest.mark.parametrize("model", CONFORMING, ids=lambda model: model.name)
@pytest.mark.parametrize("seed", [1, 2])
def test_a_model_that_keeps_its_promises_passes(model: type[Model], seed: int) -> None:
    assert_conforms(model, seed=seed)


@pytest.mark.parametrize(
    ("model", "title"), [pytest.param(m, t, id=m.__name__) for m, t in BREACHING]
)
def test_a_fault_is_found_by_the_check_meant_for_it(model: type[Model], title: str) -> None:
    examination = examine(model, draws=10)
    found = [outcome.title for outcome in examination.outcomes if outcome.breaches]
    assert title in found
    for breach in examination.breaches:
        assert breach.model
        assert breach.wrong
        assert breach.remedy


def test_every_check_has_a_model_that_it_finds() -> None:
    assert {check.title for check in CHECKS} == {title for _, title in BREACHING}


def test_a_failed_test_says_what_where_and_what_to_do() -> None:
    with pytest.raises(AssertionError) as caught:
        assert_conforms(PushesBackwards, draws=5)
    text = str(caught.value)
    assert "model `lamp` does not conform (seed 1)" in text
    assert "it gives power that it has from nowhere" in text
    assert "with: load sample : lamp { watts 6 W }" in text
    assert "at: v.line = -" in text
    assert "do: a current must have the sign of its voltage" in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_the_same_seed_finds_the_same() -> None:
    once, again = (examination_text(examine(PushesBackwards, seed=3, draws=5)) for _ in "ab")
    assert once == again


def test_after_a_fault_that_hides_the_rest_nothing_more_is_examined() -> None:
    outcomes = examine(AsksIf, draws=5).outcomes
    first = next(k for k, outcome in enumerate(outcomes) if outcome.breaches)
    assert all(outcome.skipped for outcome in outcomes[first + 1 :])
    assert NOT_EXAMINED in {outcome.skipped for outcome in outcomes}


def test_the_device_of_a_breach_can_be_built_from_its_words() -> None:
    draws = draw_devices(Cell, 5, np.random.default_rng(1))
    for text, device in draws.devices:
        again, mistakes = build_declared(Cell, text)
        assert mistakes == ()
        assert again is not None
        assert again.values == device.values


def test_refused_draws_are_counted_and_their_reason_told() -> None:
    draws = draw_devices(RefusesAll, 2, np.random.default_rng(1))
    assert draws.devices == ()
    assert draws.refused == 80
    (breach,) = examine(RefusesAll, draws=2).breaches
    assert "is never right" in breach.wrong


def test_progress_is_told_check_by_check() -> None:
    told: list[str] = []
    examine(Lamp, draws=2, progress=told.append)
    assert len(told) == 1 + len(CHECKS)
    assert told[1].startswith(f"{'.' * 20} 0 of {len(CHECKS)}: ")
