"""The installed wiring rules: found by entry point, checked when loaded.

A rule that is broken is a value that names its package, never an exception.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from importlib.metadata import EntryPoint, entry_points

from copperpath.plugin_api.rule import RULE_INTERFACE_VERSION, Rule

GROUP = "copperpath.rules"
NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class RuleProblem:
    """Why a rule cannot be used: its name, the package it comes from, and what is wrong."""

    rule: str
    distribution: str
    message: str

    def __str__(self) -> str:
        return f"rule `{self.rule}` from {self.distribution}: {self.message}"


@dataclass(frozen=True, slots=True)
class Rules:
    """The rules that can be used, by name, and what is wrong with others."""

    rules: tuple[type[Rule], ...]
    problems: tuple[RuleProblem, ...] = ()


def installed_rules() -> Rules:
    """All rules of the installed packages, by their entry points."""
    return rules_from(entry_points(group=GROUP))


def rules_from(points: Iterable[EntryPoint]) -> Rules:
    """The rules behind some entry points, sorted by name."""
    rules: dict[str, type[Rule]] = {}
    problems = []
    for point in sorted(points, key=lambda each: each.name):
        package = point.dist.name if point.dist is not None else "an unknown package"
        found = _loaded(point, package)
        if isinstance(found, RuleProblem):
            problems.append(found)
        elif found.name in rules and rules[found.name] is not found:
            problems.append(RuleProblem(found.name, package, "offered twice; take one away"))
        else:
            rules[found.name] = found
    return Rules(tuple(rules.values()), tuple(problems))


def _loaded(point: EntryPoint, package: str) -> type[Rule] | RuleProblem:
    try:
        rule: object = point.load()
    except Exception as error:  # whatever a stranger's module does while it is imported
        reason = f"cannot be loaded ({type(error).__name__}: {error})"
        return RuleProblem(point.name, package, reason)
    if not (isinstance(rule, type) and issubclass(rule, Rule)):
        reason = "is not a subclass of `copperpath.plugin_api.Rule`"
        return RuleProblem(point.name, package, reason)
    wrong = _wrong_with(rule, point.name)
    return RuleProblem(point.name, package, wrong) if wrong else rule


def _wrong_with(rule: type[Rule], listed: str) -> str:
    version = rule.__dict__.get("interface")
    if version != RULE_INTERFACE_VERSION:
        says = "does not say" if version is None else f"says {version}"
        return f"{says} which rule interface it is for; this program has {RULE_INTERFACE_VERSION}"
    if rule.name.replace("-", "_") != listed:
        return f"calls itself `{rule.name}` but is listed as `{listed}`"
    if not NAME.fullmatch(rule.name):
        return "its name is not small letters joined by hyphens"
    missing = [name for name in ("summary", "why", "levels") if not getattr(rule, name)]
    return f"says nothing of {' and '.join(missing)}" if missing else ""
