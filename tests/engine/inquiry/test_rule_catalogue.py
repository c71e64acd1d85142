"""Rules of installed packages: what is wrong with one is said by name, and the others stay."""

from __future__ import annotations

from importlib.metadata import EntryPoint

import pytest

from copperpath.inquiry.rule_catalogue import GROUP, installed_rules, rules_from

GOOD = EntryPoint("low_power", "copperpath_plugins.rules.low_power:LowPower", GROUP)


def told(name: str, value: str) -> str:
    """What is said of an entry point."""
    (problem,) = rules_from([EntryPoint(name, value, GROUP)]).problems
    return str(problem)


def test_every_installed_rule_can_be_used() -> None:
    installed = installed_rules()
    assert installed.problems == ()
    assert len({rule.name for rule in installed.rules}) == len(installed.rules) > 40


def test_every_installed_rule_says_where_its_limit_comes_from() -> None:
    published = [rule for rule in installed_rules().rules if rule.limit_from == "published"]
    assert published
    assert all(rule.source for rule in published)


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("gone", "no_such_package:Rule", "cannot be loaded"),
        ("thing", "math:pi", "is not a subclass of `copperpath.plugin_api.Rule`"),
        ("base", "copperpath.plugin_api.rule:Rule", "does not say"),
        (
            "other",
            "copperpath_plugins.rules.low_power:LowPower",
            "calls itself `low-power` but is listed as `other`",
        ),
    ],
)
def test_a_rule_that_cannot_be_used_is_named(name: str, value: str, words: str) -> None:
    said = told(name, value)
    assert said.startswith(f"rule `{name}` from ")
    assert words in said


def test_one_broken_rule_takes_no_other_away() -> None:
    rules = rules_from([GOOD, EntryPoint("gone", "no_such_package:Rule", GROUP)])
    assert [rule.name for rule in rules.rules] == ["low-power"]
    assert len(rules.problems) == 1
