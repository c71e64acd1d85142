"""A record of a published figure can fail, whichever way it is wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest
from outside.checks.record import Record, band

AGREES = Record(
    claim="a claim",
    expected=10.0,
    ours=10.4,
    unit="V",
    tolerance=0.5,
    why="a reason",
    source="a source",
    obtained="published",
)
DIFFERS = replace(AGREES, ours=11.0, disagrees="a reason", at_most=1.5)


@pytest.mark.parametrize("record", [AGREES, DIFFERS], ids=["agrees", "differs"])
def test_a_record_that_is_as_it_says_passes(record: Record) -> None:
    assert record.verdict() == ""


@pytest.mark.parametrize("ours", [9.4, 10.6, float("inf"), float("nan")])
def test_a_figure_outside_its_tolerance_fails(ours: float) -> None:
    assert replace(AGREES, ours=ours).verdict() != ""


def test_a_figure_said_to_differ_that_agrees_fails() -> None:
    assert "agrees again" in replace(DIFFERS, ours=10.4).verdict()


@pytest.mark.parametrize("ours", [8.4, 11.6])
def test_a_figure_that_differs_by_more_than_is_said_fails(ours: float) -> None:
    assert "at most" in replace(DIFFERS, ours=ours).verdict()


def test_a_tolerance_needs_a_reason_and_must_not_be_nothing() -> None:
    assert replace(AGREES, why="").verdict() != ""
    assert replace(AGREES, ours=10.0, tolerance=0.0).verdict() != ""


@pytest.mark.parametrize(("ours", "inside"), [(2.0, True), (6.0, True), (1.9, False), (6.1, False)])
def test_a_range_holds_up_to_its_ends(ours: float, inside: bool) -> None:
    ranged = replace(AGREES, ours=ours, **band(2.0, 6.0))
    assert (ranged.verdict() == "") is inside
