"""States and drives: signals that can be used, beginnings within bounds, inputs over time."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from copperpath.conformance.breach import Breach
from copperpath.conformance.subject import Subject, of_device, where_bad
from copperpath.conformance.trial import Trial, flow_of, initial_states, watched
from copperpath.plugin_api import Accumulator, Lag, Latch, Terminal, Values


def drives(subject: Subject) -> Iterable[Breach]:
    """`drive` gives each declared name as a finite array (time,); shares lie in 0 to 1."""
    for text, reason in subject.driving:
        yield Breach(
            subject.model.name,
            f"`drive` fails: {reason}",
            "make it work with any values within the bounds, on any site",
            text,
        )
    for trial in subject.trials:
        if trial.model.drives:
            yield from _drive(trial)


def _drive(trial: Trial) -> Iterator[Breach]:
    model, site = trial.model, trial.site
    made = model.drive(site, trial.device.values)
    names = set(made) ^ set(model.drives)
    if names:
        wrong = f"`drive` and `drives` differ: {', '.join(sorted(names))}"
        yield of_device(trial, wrong, "declare each name that `drive` makes, and no other")
        return
    shares = {model.demand} if model.demand else set()
    shares |= {model.keying.share} if model.keying else set()
    for name, row in made.items():
        if np.shape(row) != site.light.shape:
            yield of_device(
                trial,
                f"drive `{name}` has the shape {np.shape(row)}; it must have one value a step",
                "give an array (time,), as long as `site.air_k`",
            )
        elif not np.isfinite(row).all():
            wrong = f"drive `{name}` is not always a finite number"
            yield of_device(trial, wrong, "look at nights without light and at deep frost")
        elif name in shares and (np.min(row) < 0.0 or np.max(row) > 1.0):
            wrong = f"drive `{name}` leaves the range 0 to 1"
            yield of_device(trial, wrong, "it is the share of a step in which something holds")


def signals(subject: Subject) -> Iterable[Breach]:
    """`watch` gives finite rates and targets, and 0 or 1 for latches."""
    for trial in subject.trials:
        rows = iter(watched(trial, flow_of(trial)))
        for state in trial.model.states:
            for word in ("set", "clear") if isinstance(state, Latch) else ("signal",):
                row = next(rows)
                yield from where_bad(
                    trial,
                    ~np.isfinite(row),
                    f"the {word} of state `{state.name}` is not a finite number",
                    "keep divisors away from zero; a parameter that is not given is NaN",
                )
                if isinstance(state, Latch):
                    yield from where_bad(
                        trial,
                        (row != 0.0) & (row != 1.0),
                        f"the {word} of latch `{state.name}` is neither 0 nor 1",
                        "write comparisons, joined with `&` and `|`",
                    )


def beginnings(subject: Subject) -> Iterable[Breach]:
    """States begin within their bounds; delays and lags are not negative."""
    for trial in subject.trials:
        values = trial.device.values
        begin = initial_states(trial.device, trial.drives)
        for state, value in zip(trial.model.states, begin, strict=True):
            times: tuple[str, ...] = ()
            match state:
                case Accumulator():
                    good = state.low <= value <= state.high
                case Latch():
                    good, times = value in (0.0, 1.0), (state.set_after, state.clear_after)
                case Lag():
                    good, times = math.isfinite(value), (state.tau,)
            if not good:
                yield of_device(
                    trial,
                    f"state `{state.name}` begins outside its bounds",
                    "bound the parameter it begins at, or refuse the value in `derive`",
                )
            for name in times:
                if name and not (0.0 <= float(values[name]) < math.inf):
                    yield of_device(
                        trial,
                        f"the time `{name}` of state `{state.name}` is no length of time",
                        "give it a default and a low bound of zero",
                    )


def stays(subject: Subject) -> Iterable[Breach]:
    """The rate of a store of charge never points out of its bounds: the engine would cut it off
    there, and the energy with it."""
    for trial in subject.trials:
        rows = watched(trial, flow_of(trial))
        first = 0
        for place, state in enumerate(trial.model.states):
            if isinstance(state, Accumulator) and state.carries_charge:
                value, rate = trial.states[place], rows[first]
                full = (value >= state.high) & (rate > 0.0)
                bare = (value <= state.low) & (rate < 0.0)
                yield from where_bad(
                    trial,
                    full | bare,
                    f"the rate of `{state.name}` points out of its bounds when it is full or empty",
                    "let what it accepts fade out at the end; what is cut off there is lost energy",
                )
            first += 2 if isinstance(state, Latch) else 1


def links(subject: Subject) -> Iterable[Breach]:
    """A block's links join its own terminals with resistances above zero."""
    for text, device in subject.draws.devices:
        names = _terminal_names(subject, device.values)
        for link in subject.model.links(device.values):
            if link.start not in names or link.end not in names or link.start == link.end:
                yield Breach(
                    subject.model.name,
                    "a link does not join two of its own terminals",
                    "use the declared names; numbered ways are `1`, `2`, ...",
                    text,
                )
            if not (0.0 < link.ohm < math.inf):
                yield Breach(
                    subject.model.name,
                    "a link has no resistance above zero",
                    "bound the parameter above zero; a micro-ohm will do",
                    text,
                )


def _terminal_names(subject: Subject, values: Values) -> set[str]:
    names: set[str] = set()
    for terminal in subject.model.terminals:
        if isinstance(terminal, Terminal):
            names.add(terminal.name)
        else:
            names |= {str(way) for way in range(1, int(values[terminal.count]) + 1)}
    return names
