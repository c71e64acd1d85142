"""Each faulty station of the gallery is found out, and its mended twin is not."""

from __future__ import annotations

import re

import pytest
from support.gallery import FOLDER, MENDED, Case, cases, found_in, rules, told

from copperpath.inquiry.judge import LEVELS

CASES = [pytest.param(case, id=f"{case.rule}: {case.fault}") for case in cases()]


@pytest.mark.parametrize("case", CASES)
def test_a_faulty_station_has_the_findings_that_its_first_lines_expect_and_no_other(
    case: Case,
) -> None:
    assert sorted(map(told, found_in(case.path))) == sorted([case.expected, *case.also])


@pytest.mark.parametrize("case", CASES)
def test_the_remedy_names_what_is_to_be_done(case: Case) -> None:
    own = [each for each in found_in(case.path) if told(each) == case.expected]
    assert case.word in own[0].remedy


@pytest.mark.parametrize("case", CASES)
def test_the_mended_twin_has_no_finding_of_that_rule(case: Case) -> None:
    assert [each.message for each in found_in(case.mended) if each.rule == case.rule] == []


@pytest.mark.parametrize("case", CASES)
def test_the_message_has_its_number_and_its_limit_and_no_full_stop(case: Case) -> None:
    for each in found_in(case.path):
        assert not each.message.endswith(".")
        assert each.remedy
        if each.value is not None:
            assert re.search(r"\d", each.message)
            assert each.limit is None or each.unit


def test_every_rule_has_a_faulty_station() -> None:
    assert {case.rule for case in cases()} == set(rules())


def test_every_level_that_a_rule_declares_comes_up_in_the_gallery() -> None:
    seen = {(each.rule, each.level) for case in cases() for each in found_in(case.path)}
    wanted = {(rule.name, LEVELS[level]) for rule in rules().values() for level in rule.levels}
    assert wanted - seen == set()


def test_no_rule_finds_anything_at_a_level_that_it_does_not_declare() -> None:
    seen = {(each.rule, each.level) for case in cases() for each in found_in(case.path)}
    declared = {(rule.name, LEVELS[level]) for rule in rules().values() for level in rule.levels}
    assert seen - declared == set()


def test_each_station_lies_in_the_folder_of_its_rule_and_has_a_twin() -> None:
    twins = {path for path in FOLDER.glob("*/*.station") if path.name.endswith(MENDED)}
    assert twins == {case.mended for case in cases()}
    assert {(case.path.parent.name, case.rule.replace("-", "_")) for case in cases()} == {
        (name, name) for name in (case.path.parent.name for case in cases())
    }
