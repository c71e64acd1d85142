"""What a station is asked to do, and in which cases."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from copperpath_grammar.source import Span

BASE = "base"
"""The name of the station without any change."""

BASE_ALONE = (BASE,)
"""The cases of a requirement that speaks of none."""


@dataclass(frozen=True, slots=True)
class PoweredRequirement:
    """A load is powered throughout (`duration_s` None) or for so long from the start."""

    load: str
    duration_s: float | None
    text: str
    span: Span
    cases: tuple[str, ...] = BASE_ALONE


@dataclass(frozen=True, slots=True)
class VerdictRequirement:
    """The verdict must be this word ("holds")."""

    word: str
    text: str
    span: Span
    cases: tuple[str, ...] = BASE_ALONE


@dataclass(frozen=True, slots=True)
class ComparisonRequirement:
    """A recorded quantity against a limit, at every step.

    `device` is None for station-wide quantities (`mass`); `quantity` is voltage, mean_voltage,
    current, power, charge, energy or mass; `operator` one of < <= > >=; `limit` in SI;
    `unit` is the unit people wrote, for showing it again.
    """

    device: str | None
    quantity: str
    operator: str
    limit: float
    unit: str
    text: str
    span: Span
    cases: tuple[str, ...] = BASE_ALONE


Requirement: TypeAlias = PoweredRequirement | VerdictRequirement | ComparisonRequirement
