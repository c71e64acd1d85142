"""Where a remedy is an edit of the station, making it clears the finding, whatever the figures."""

from __future__ import annotations

from inspect import getsource

import pytest
from support.building import station_of
from support.gallery import Case, cases, rules, varied

from copperpath.inquiry.judge import second_reading

SEEDS = range(5)
MANY = range(5, 60)


def left_after_remedies(case: Case, seed: int) -> list[str]:
    """What is still found after the remedy of each finding of the case's rule was made."""
    rule = rules()[case.rule]
    inquiry = varied(station_of(case.text), seed)
    left = []
    for reading in rule.judge(inquiry):
        remedy = rule.mend(inquiry, reading) if reading.level is not None else None
        if remedy is None or not remedy.edits:
            continue
        again = second_reading(rule, reading, remedy, inquiry)
        if again is not None and again.level is not None:
            left.append(f"{remedy.words}: {again.message}")
    return left


CASES = [pytest.param(case, id=f"{case.rule}: {case.fault}") for case in cases()]


@pytest.mark.parametrize("case", CASES)
def test_a_remedy_clears_its_finding_on_a_few_variations_of_the_station(case: Case) -> None:
    assert {seed: left for seed in SEEDS if (left := left_after_remedies(case, seed))} == {}


@pytest.mark.long
@pytest.mark.parametrize("case", CASES)
def test_a_remedy_clears_its_finding_on_many_variations_of_the_station(case: Case) -> None:
    assert {seed: left for seed in MANY if (left := left_after_remedies(case, seed))} == {}


def test_every_rule_that_edits_the_station_does_so_for_some_station_of_the_gallery() -> None:
    edits = set()
    for case in cases():
        rule, inquiry = rules()[case.rule], varied(station_of(case.text), 0)
        for reading in rule.judge(inquiry):
            remedy = rule.mend(inquiry, reading) if reading.level is not None else None
            if remedy is not None and remedy.edits:
                edits.add(case.rule)
    named = {name for name, rule in rules().items() if "Set" in getsource(rule.mend)}
    assert named - edits == set()
