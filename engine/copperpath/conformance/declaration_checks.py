"""What a model declares: complete, explained, readable in a station file, and fit for use."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from copperpath.build.parameters import example_of
from copperpath.conformance.breach import Breach
from copperpath.conformance.declared_values import read_entry, spelled
from copperpath.conformance.subject import Subject, of_device, plain
from copperpath.plugin_api import (
    AnyParameter,
    Latch,
    Model,
    Parameter,
    ShareByHour,
    Terminal,
    Window,
)
from copperpath.quantities import MEANINGS
from copperpath_grammar import Diagnostic

FEWEST = 0.5
"""At least this share of the devices must be drawn, each within forty tries."""


def declarations(subject: Subject) -> Iterable[Breach]:
    """What the catalogue wants of any model."""
    for problem in subject.problems:
        yield plain(subject, problem, "mend the declaration; the catalogue refuses this model")


def devices(subject: Subject) -> Iterable[Breach]:
    """Values within the declared bounds make a device, or `derive` says why they do not."""
    for text, mistake in subject.draws.stumbles:
        yield Breach(
            subject.model.name,
            f"values within the declared bounds are refused: {mistake.message}",
            "narrow the bounds, or raise ParameterProblem in `derive` and say what does not fit",
            text,
        )
    made = len(subject.draws.devices) + len(subject.draws.stumbles)
    if made < FEWEST * subject.wanted:
        reason, _ = subject.draws.refusals.most_common(1)[0]
        yield plain(
            subject,
            f"`derive` refuses nearly all that is drawn around the examples and defaults; most "
            f"often: {reason}",
            "give examples that fit each other, and bounds and defaults under which a device works",
        )


def documentation(subject: Subject) -> Iterable[Breach]:
    """Everything a reader of `copperpath models NAME` needs is said."""
    model = subject.model
    if not model.leaves_out.strip():
        yield plain(
            subject,
            "`leaves_out` is empty",
            "say what the model does not describe, so that nobody trusts it there",
        )
    for parameter in model.parameters:
        required = isinstance(parameter, Parameter | Window | ShareByHour) and parameter.required
        if required and not getattr(parameter, "example", "").strip():
            yield plain(
                subject,
                f"parameter `{parameter.name}` must be given and has no `example`",
                "add one that can be typed; it is shown where the parameter is missing",
            )
    plain_ones = [each for each in model.terminals if isinstance(each, Terminal)]
    if not any(terminal.main for terminal in plain_ones):
        yield plain(
            subject,
            "no terminal is `main`",
            "mark the one that a cable means when it names the device alone",
        )
    for suspect in model.suspects:
        latches = {state.name for state in model.states if isinstance(state, Latch)}
        if suspect.latch and suspect.latch not in latches:
            yield plain(
                subject,
                f"the suspect '{suspect.cause}' names `{suspect.latch}`, which is no latch",
                "name the latch that shows that it happened, or leave it out",
            )


# ---- entries of a station file --------------------------------------------------------------


def entries(subject: Subject) -> Iterable[Breach]:
    """Examples can be read; a wrong unit or a value out of bounds is refused by name."""
    for parameter in subject.model.parameters:
        yield from _example(subject, parameter)
        if isinstance(parameter, Parameter | Window):
            yield from _bounds(subject, parameter)
        for text, why in _wrong_entries(parameter):
            yield from _must_refuse(subject, parameter, text, why)


def _example(subject: Subject, parameter: AnyParameter) -> Iterator[Breach]:
    if not getattr(parameter, "example", ""):
        return
    text = example_of(parameter)
    _, mistakes = read_entry(parameter, text)
    if mistakes:
        yield plain(
            subject,
            f"the example of `{parameter.name}` cannot be written in a station file: `{text}`: "
            f"{mistakes[0].message}",
            "give an example with a unit of its dimension, within its bounds",
        )


def _bounds(subject: Subject, parameter: Parameter | Window) -> Iterator[Breach]:
    low, high = parameter.low, parameter.high
    odd = any(bound is not None and not math.isfinite(bound) for bound in (low, high))
    crossed = low is not None and high is not None and low > high
    if odd or crossed:
        yield plain(
            subject,
            f"the bounds of `{parameter.name}` are no range: {low} to {high}",
            "give finite bounds with the low one first, or None for none",
        )


def _wrong_entries(parameter: AnyParameter) -> Iterator[tuple[str, str]]:
    """Entries that must be refused, and what is wrong with each."""
    name = parameter.name
    if isinstance(parameter, ShareByHour):
        yield f"{name} 5 kg", "a mass"
        yield f"{name} 150 %", "150 %"
    if not isinstance(parameter, Parameter | Window):
        return
    other, noun = ("5 V", "a voltage") if parameter.dimension == "mass" else ("5 kg", "a mass")
    yield _twice(parameter, other), noun
    for value in _outside(parameter):
        text = spelled(value, parameter)
        yield _twice(parameter, text), f"{text}, out of its bounds"
    if isinstance(parameter, Parameter) and parameter.whole:
        base = 0.5 if parameter.low is None else parameter.low + 0.5
        yield f"{name} {spelled(base, parameter)}", "half a one"


def _twice(parameter: Parameter | Window, text: str) -> str:
    return f"{parameter.name} {text}" + (f" .. {text}" if isinstance(parameter, Window) else "")


def _outside(parameter: Parameter | Window) -> Iterator[float]:
    """Values just beyond the bounds [SI]."""
    low, high = parameter.low, parameter.high
    if low is not None and math.isfinite(low):
        yield low - max(0.01 * abs(low), 0.01)
        if isinstance(parameter, Parameter) and not parameter.low_allowed:
            yield low
    if high is not None and math.isfinite(high):
        yield high + max(0.01 * abs(high), 0.01)


def _must_refuse(
    subject: Subject, parameter: AnyParameter, text: str, why: str
) -> Iterator[Breach]:
    _, mistakes = read_entry(parameter, text)
    if not _names(parameter, mistakes):
        yield plain(
            subject,
            f"`{text}` ({why}) is not refused with a message that names `{parameter.name}`",
            "look at its dimension and bounds",
        )


def _names(parameter: AnyParameter, mistakes: tuple[Diagnostic, ...]) -> bool:
    return any(f"`{parameter.name}" in f"{each.message} {each.help}" for each in mistakes)


# ---- what terminals and loads refer to ------------------------------------------------------


def references(subject: Subject) -> Iterable[Breach]:
    """Limits, highest voltages and needs are voltages above zero; shares lie between 0 and 1."""
    yield from _terminals(subject)
    model = subject.model
    for trial in subject.trials:
        values = trial.device.values
        volts = [model.pushes] if model.pushes else []
        volts += [model.powered[1]] if model.powered else []
        volts += [t.limit for t in model.terminals if isinstance(t, Terminal) and t.limit]
        for name in volts:
            value = float(values.get(name, math.nan))
            if not (value > 0.0 and math.isfinite(value)) and not _absent(model, name, value):
                yield of_device(
                    trial,
                    f"`{name}` must be a voltage above zero",
                    "give it a default, or bounds above zero",
                )
        if model.keying is not None:
            mean, square = float(values[model.keying.mode]), float(values[model.keying.mode_square])
            if not (0.0 <= mean <= 1.0 and mean**2 - 1e-9 <= square <= mean + 1e-9):
                yield of_device(
                    trial,
                    "the mean and the mean square of the keyed level do not go together",
                    "a level between 0 and 1 has a mean square between mean² and mean",
                )


def _absent(model: type[Model], name: str, value: float) -> bool:
    """True for the limit of a terminal that the file need not give."""
    limits = {t.limit for t in model.terminals if isinstance(t, Terminal)}
    return name in limits and math.isnan(value)


def _terminals(subject: Subject) -> Iterator[Breach]:
    model = subject.model
    voltages = {p.name for p in model.parameters if _is_voltage(p) and isinstance(p, Parameter)}
    for p in model.parameters:
        if isinstance(p, Window) and _is_voltage(p):
            voltages |= {f"{p.name}_low", f"{p.name}_high"}
    for terminal in model.terminals:
        if not isinstance(terminal, Terminal):
            continue
        if terminal.limit and terminal.limit not in {*voltages, *model.derived}:
            yield plain(
                subject,
                f"the limit of terminal `{terminal.name}` is `{terminal.limit}`, which is no "
                "voltage among its parameters",
                "name a parameter that is the highest voltage the terminal may see",
            )
        if terminal.alternating and terminal.seeking:
            yield plain(
                subject,
                f"terminal `{terminal.name}` is `alternating` and `seeking`",
                "a controller seeks the most power of panels, not of the mains",
            )
    if model.powered and model.powered[1] not in {*voltages, *model.derived}:
        yield plain(
            subject,
            f"`powered` names `{model.powered[1]}`, which is no voltage",
            "name the low end of the window of voltages between which it works",
        )


def _is_voltage(parameter: AnyParameter) -> bool:
    known = isinstance(parameter, Parameter | Window) and parameter.dimension in MEANINGS
    return known and getattr(parameter, "dimension", "") == "voltage"
