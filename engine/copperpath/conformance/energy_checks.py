"""Nothing gives energy from nothing, and what is taken is heat or store to the last digit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from copperpath.conformance.breach import Breach
from copperpath.conformance.subject import Subject, where_bad
from copperpath.conformance.surroundings import STEP_S
from copperpath.conformance.trial import Trial, flow_of, in_the_dark, power_of, watched
from copperpath.plugin_api import Accumulator, BoolArray, FloatArray, Latch, Model, Terminal

LAST_DIGIT = 1e-12
ALIKE = 1e-4
"""How well a difference of `contents` must meet `store`, as a share."""
CHARGE_STEP = 1e-5


def spared_heat(model: type[Model]) -> str:
    """Only what says how much of its power turns to heat can be held to it."""
    return "" if model.heat is not None else "it has no heat"


def heat_and_store(subject: Subject) -> Iterable[Breach]:
    """Power taken is heat and store, and heat is never below zero."""
    for trial in subject.trials:
        flow = flow_of(trial)
        heat, store = power_of(trial, flow, "heat"), power_of(trial, flow, "store")
        scale = flow.scale + np.abs(store)
        yield from where_bad(
            trial,
            heat < -LAST_DIGIT * scale,
            "its heat is below zero: it gives more than it takes",
            "write the output as a share of the input, and heat as what is lost",
        )
        yield from where_bad(
            trial,
            np.abs(flow.taken - heat - store) > LAST_DIGIT * scale,
            "the power it takes is not its heat and its store together",
            "take `heat` from the same formula as the law, the idle draw included, at odd "
            "voltages too",
        )


def spared_taking(model: type[Model]) -> str:
    """Sources and stores give; the others only take."""
    return "it may give" if model.kind in ("source", "storage") else ""


def takes_only(subject: Subject) -> Iterable[Breach]:
    """A load, block or converter takes power at all its terminals together, at any voltage."""
    for trial in subject.trials:
        flow = flow_of(trial)
        yield from where_bad(
            trial,
            flow.taken < -LAST_DIGIT * flow.scale,
            "it gives power that it has from nowhere",
            "a current must have the sign of its voltage; look at voltages below zero",
        )


def spared_offer(model: type[Model]) -> str:
    """Only controllers are offered power."""
    seeking = any(isinstance(t, Terminal) and t.seeking for t in model.terminals)
    return "" if seeking else "no terminal of it is seeking"


def within_offer(subject: Subject) -> Iterable[Breach]:
    """A controller takes between nothing and the power on offer."""
    for trial in subject.trials:
        watts, offer = flow_of(trial).watts, trial.drives[-1]
        bad = (watts < -LAST_DIGIT * offer) | (watts > offer * (1.0 + LAST_DIGIT))
        yield from where_bad(
            trial,
            bad,
            "at its seeking terminal it takes more than is on offer, or gives power",
            "the watts it returns lie between 0 and `d.offer`",
        )


# ---- sources and stores ---------------------------------------------------------------------


def spared_source(model: type[Model]) -> str:
    """Whether a source has nothing to give can be told if it has drives."""
    if model.kind != "source":
        return "it is no source"
    return "" if model.drives else "it has no drives, so it may give always"


def nothing_in_the_dark(subject: Subject) -> Iterable[Breach]:
    """A source that asks for light or hours gives nothing without them."""
    random = subject.random()
    for trial in subject.trials:
        if not {"light", "schedule"} & trial.site.asked:
            continue
        night = in_the_dark(trial, random)
        flow = flow_of(night)
        yield from where_bad(
            night,
            flow.taken < -LAST_DIGIT * flow.scale,
            "it gives power without light and outside its hours",
            "multiply what it gives by the drive that says how much there is",
        )


def spared_tank(model: type[Model]) -> str:
    """Only sources and stores that add something up can run empty."""
    if model.kind not in ("source", "storage"):
        return f"it is a {model.kind}"
    held = any(isinstance(state, Accumulator) for state in model.states)
    return "" if held else "it has no store to run empty"


def nothing_when_empty(subject: Subject) -> Iterable[Breach]:
    """A store at its low bound gives nothing, once its latches have acted."""
    for trial in subject.trials:
        for place, state in enumerate(trial.model.states):
            if not isinstance(state, Accumulator) or not np.isfinite(state.low):
                continue
            if not (state.carries_charge or _drains(trial, place)):
                continue
            empty = _settled_latches(_held_at(trial, place, state.low))
            flow = flow_of(empty)
            yield from where_bad(
                empty,
                flow.taken < -LAST_DIGIT * flow.scale,
                f"it gives power though `{state.name}` is at its low end",
                "let the law give nothing there, or a latch that `watch` sets",
            )


def _held_at(trial: Trial, place: int, value: float) -> Trial:
    states = trial.states.copy()
    states[place] = value
    return replace(trial, states=states)


def _drains(trial: Trial, place: int) -> bool:
    """True if giving power makes that accumulator fall."""
    flow = flow_of(trial)
    signals = watched(trial, flow)
    rate = signals[_first_signal(trial.model, place)]
    giving = flow.taken < 0.0
    return bool(np.any(giving) and np.all(rate[giving] < 0.0))


def _first_signal(model: type[Model], place: int) -> int:
    """Where the signals of a state begin among those of `watch`."""
    return sum(2 if isinstance(state, Latch) else 1 for state in model.states[:place])


def _settled_latches(trial: Trial) -> Trial:
    """The trial after its latches have moved as often as there are latches."""
    for _ in trial.model.states:
        signals = watched(trial, flow_of(trial))
        states = trial.states.copy()
        for place, state in enumerate(trial.model.states):
            if isinstance(state, Latch):
                first = _first_signal(trial.model, place)
                sets, clears = signals[first] > 0.5, signals[first + 1] > 0.5
                states[place] = np.where(sets, 1.0, np.where(clears, 0.0, states[place]))
        trial = replace(trial, states=states)
    return trial


def spared_charge(model: type[Model]) -> str:
    """Only stores of charge."""
    held = any(isinstance(s, Accumulator) and s.carries_charge for s in model.states)
    return "" if held and model.store is not None else "it stores no charge"


def store_has_room(subject: Subject) -> Iterable[Breach]:
    """No power goes into a full store, none comes out of an empty one: it would be lost."""
    for trial in subject.trials:
        for place, state in enumerate(trial.model.states):
            if not isinstance(state, Accumulator) or not state.carries_charge:
                continue
            for end, sign, word in ((state.high, 1.0, "full"), (state.low, -1.0, "empty")):
                there = _settled_latches(_held_at(trial, place, end))
                flow = flow_of(there)
                store = power_of(there, flow, "store")
                yield from where_bad(
                    there,
                    sign * store > LAST_DIGIT * (flow.scale + np.abs(store)),
                    f"`store` moves power though it is {word}, which `{state.name}` cannot follow",
                    "let the charge that it accepts (or gives) fade out at that end, or turn the "
                    "rest to heat",
                )


def contents_and_store(subject: Subject) -> Iterable[Breach]:
    """`contents` rises with charge as `store` and the rate say; `lowest_planned` is a charge."""
    for trial in subject.trials:
        place = next(
            k
            for k, s in enumerate(trial.model.states)
            if isinstance(s, Accumulator) and s.carries_charge
        )
        state = trial.model.states[place]
        assert isinstance(state, Accumulator)
        if trial.model.lowest_planned is not None:
            yield from _planned(trial, state)
        if trial.model.contents is not None:
            yield from where_bad(
                trial,
                _contents_differ(trial, state, place),
                "the energy by `contents` does not change as `store` says at that rate of charge",
                "`contents` is the integral of the rest voltage over the charge in coulomb",
            )


def _contents_differ(trial: Trial, state: Accumulator, place: int) -> BoolArray:
    x, p = trial.tuples()[1], trial.tuples()[3]
    charge: FloatArray = np.asarray(getattr(x, state.name))
    flow = flow_of(trial)
    store = power_of(trial, flow, "store")
    rate = watched(trial, flow)[_first_signal(trial.model, place)]
    if "steps" in trial.site.asked:
        # A model that knows the length of the step is held to what the whole step adds.
        after = np.clip(charge + STEP_S * rate, state.low, state.high)
        grown = np.asarray(trial.model.contents(after, p), float)
        grown = (grown - np.asarray(trial.model.contents(charge, p), float)) / STEP_S
        tolerance = ALIKE * np.maximum(np.abs(store), np.abs(grown)) + 1e-9
        return np.asarray(np.abs(grown - store) > tolerance)
    above = np.minimum(charge + CHARGE_STEP, state.high)
    below = np.maximum(charge - CHARGE_STEP, state.low)
    held = [np.asarray(trial.model.contents(each, p), float) for each in (below, above)]
    slope = (held[1] - held[0]) / (above - below)
    tolerance = ALIKE * np.maximum(np.abs(store), np.abs(slope * rate)) + 1e-9
    return np.asarray(np.abs(slope * rate - store) > tolerance)


def _planned(trial: Trial, state: Accumulator) -> list[Breach]:
    x, p = trial.tuples()[1], trial.tuples()[3]
    planned = np.broadcast_to(np.asarray(trial.model.lowest_planned(x, p), float), (trial.points,))
    return where_bad(
        trial,
        ~((planned >= state.low) & (planned <= state.high)),
        f"`lowest_planned` is no value of `{state.name}`",
        "return a share of the rated charge, with the reserve in it",
    )


# ---- the highest voltage it puts out --------------------------------------------------------


def pushes_no_higher(subject: Subject) -> Iterable[Breach]:
    """Above the voltage that `pushes` names nothing is given: the solver starts there."""
    remedy = "name the highest voltage that it puts out, at no load and fully charged"
    for trial in subject.trials:
        model, flow = trial.model, flow_of(trial)
        above = trial.volts > float(trial.device.values[model.pushes]) * (1.0 + 1e-9)
        if model.inner:
            # A private node may stand anywhere; only the device as a whole must not give.
            gives = above.all(axis=0) & (flow.taken < -LAST_DIGIT * flow.scale)
            yield from where_bad(trial, gives, f"it gives power above `{model.pushes}`", remedy)
            continue
        plain = [t for t in model.terminals if isinstance(t, Terminal) and not t.seeking]
        least = -LAST_DIGIT * (1.0 + np.abs(flow.amps).max(axis=0))
        for place, terminal in enumerate(plain):
            if terminal.gives or model.kind in ("source", "storage"):
                wrong = f"it gives current at `{terminal.name}` above `{model.pushes}`"
                bad = above[place] & (flow.amps[place] < least)
                yield from where_bad(trial, bad, wrong, remedy)
