"""What the suite takes for a jump in a law, and what not."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from support.conforming_models import Lamp

from copperpath.conformance.jump_checks import continuous
from copperpath.conformance.suite import make_subject
from copperpath.plugin_api import Model, where

TALL_A = 1e-6


class SteepBetweenTwoBends(Lamp):
    """A slope of a thousand amps a volt that ends a billionth of a volt above where it begins."""

    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (1000.0 * np.minimum(np.maximum(v.line - 12.0, 0.0), 1e-9),)


class JumpsAsFar(Lamp):
    """A jump as tall as that slope."""

    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (where(v.line > 12.0, TALL_A, 0.0),)


class JumpsBesideASlope(Lamp):
    """The same jump at the foot of the slope."""

    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        slope = 100.0 * np.minimum(np.maximum(v.line - 12.0, 0.0), 1e-9)
        return (where(v.line > 12.0, TALL_A, 0.0) + slope,)


def test_a_steep_slope_between_two_bends_a_billionth_of_a_volt_apart_is_no_jump() -> None:
    assert list(continuous(make_subject(SteepBetweenTwoBends, 40, 1))) == []


@pytest.mark.parametrize("model", [JumpsAsFar, JumpsBesideASlope])
def test_a_jump_of_a_microampere_is_found_all_the_same(model: type[Model]) -> None:
    (wrong,) = {breach.wrong for breach in continuous(make_subject(model, 5, 1))}
    assert "the law jumps where the voltage at `line` rises" in wrong
