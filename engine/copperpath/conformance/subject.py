"""What a check looks at: a model, its drawn devices and their points; and what a check is."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from copperpath.conformance.breach import Breach
from copperpath.conformance.drawing import Draws
from copperpath.conformance.trial import Trial
from copperpath.plugin_api import BoolArray, Model


@dataclass(frozen=True, slots=True)
class Subject:
    """A model under examination.

    `wanted` devices were asked for; `trials` holds those that could be drawn and driven.
    `problems` holds, in words for the author, what its declarations lack.
    """

    model: type[Model]
    wanted: int
    draws: Draws
    trials: tuple[Trial, ...]
    problems: tuple[str, ...]
    driving: tuple[tuple[str, str], ...]
    """(declaration, what happened) of each device whose `drive` failed."""

    def random(self) -> np.random.Generator:
        """A generator that begins anew for every check, so that one does not disturb another."""
        return np.random.default_rng(len(self.trials))


@dataclass(frozen=True, slots=True)
class Check:
    """One promise. `applies` gives "", or the reason why a model is spared; a `gate` that finds a
    breach ends the examination, since nothing after it would say anything new."""

    title: str
    find: Callable[[Subject], Iterable[Breach]]
    applies: Callable[[type[Model]], str]
    gate: bool = False


def always(model: type[Model]) -> str:
    """For checks of every model."""
    return ""


def has(*names: str) -> Callable[[type[Model]], str]:
    """For checks of models that declare all of these."""

    def applies(model: type[Model]) -> str:
        missing = [name for name in names if not getattr(model, name)]
        return f"it has no {missing[0]}" if missing else ""

    return applies


def plain(subject: Subject, wrong: str, remedy: str) -> Breach:
    """A breach that depends on no device."""
    return Breach(subject.model.name, wrong, remedy)


def of_device(trial: Trial, wrong: str, remedy: str) -> Breach:
    """A breach of one device, whatever its voltages."""
    return Breach(trial.model.name, wrong, remedy, trial.declaration)


def where_bad(trial: Trial, bad: BoolArray, wrong: str, remedy: str) -> list[Breach]:
    """A breach at the first point that is bad; none if none is."""
    if not bad.any():
        return []
    point = int(np.argmax(bad))
    inputs = trial.inputs_at(point)
    return [Breach(trial.model.name, wrong, remedy, trial.declaration, inputs)]
