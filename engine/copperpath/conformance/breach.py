"""What the suite says about a model: breaches, outcomes of checks, and the whole examination."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

WIDTH = 80


@dataclass(frozen=True, slots=True)
class Breach:
    """One promise that a model does not keep.

    Attributes
    ----------
    model : str
        Its name.
    wrong : str
        What is wrong, in one sentence without figures of the very draw.
    remedy : str
        What its author can do.
    device : str
        The device as a station file would declare it; "" if it does not depend on one.
    inputs : tuple of (name, value)
        Voltages, states and drives at which it shows, SI; empty if it does not depend on them.
    """

    model: str
    wrong: str
    remedy: str
    device: str = ""
    inputs: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """One check: its breaches (none if it passed), or why it does not apply."""

    title: str
    breaches: tuple[Breach, ...] = ()
    skipped: str = ""

    @property
    def word(self) -> str:
        """`passed`, `breach`, or `-` where it does not apply."""
        return "breach" if self.breaches else ("-" if self.skipped else "passed")


@dataclass(frozen=True, slots=True)
class Examination:
    """All that the suite found on one model.

    `devices` were drawn from its declarations with `seed`; `refused` draws were refused by
    `derive` and drawn again.
    """

    model: str
    kind: str
    seed: int
    devices: int
    refused: int
    outcomes: tuple[Outcome, ...]

    @property
    def passed(self) -> bool:
        """True if no check found a breach."""
        return not any(outcome.breaches for outcome in self.outcomes)

    @property
    def breaches(self) -> tuple[Breach, ...]:
        """Those of all checks, in order."""
        return tuple(breach for outcome in self.outcomes for breach in outcome.breaches)


def inputs_text(breach: Breach) -> str:
    """`v.line = 12.5, x.charge = 0.25`, in SI."""
    return ", ".join(f"{name} = {value:.12g}" for name, value in breach.inputs)


def breach_lines(breach: Breach) -> list[str]:
    """A breach in plain words: what, at which device and inputs, what to do."""
    parts = [(breach.wrong, "  ")]
    if breach.device:
        parts.append((f"with: {breach.device}", "    "))
    if breach.inputs:
        parts.append((f"at: {inputs_text(breach)}", "    "))
    parts.append((f"do: {breach.remedy}", "    "))
    lines: list[str] = []
    for text, indent in parts:
        lines += textwrap.wrap(
            text,
            WIDTH,
            initial_indent=indent,
            subsequent_indent=indent + "  ",
            break_on_hyphens=False,
        )
    return lines


def examination_text(examination: Examination) -> str:
    """The breaches of an examination, for the message of a failed test."""
    lines = [f"model `{examination.model}` does not conform (seed {examination.seed})"]
    for outcome in examination.outcomes:
        if outcome.breaches:
            lines += ["", outcome.title]
        for breach in outcome.breaches:
            lines += breach_lines(breach)
    return "\n".join(lines)
