"""What a model must declare to be taken into the catalogue: a tuple of small checks.

Each takes a model class and returns, in words for its author, what is wrong with it.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterable
from functools import lru_cache

from copperpath.plugin_api import (
    INTERFACE_VERSION,
    Accumulator,
    AnyParameter,
    Choice,
    Hours,
    Lag,
    Latch,
    Model,
    Parameter,
    ShareByHour,
    Terminal,
    Ways,
    Window,
)
from copperpath.quantities.dimensions import MEANINGS
from copperpath.quantities.units import UnitProblem, read_unit

KINDS = ("source", "converter", "storage", "block", "load")
COMMON_ENTRIES = ("mass", "priority", "note", "accept", "confirm")
_NAME = re.compile(r"[a-z][a-z0-9_]*$")


@lru_cache(maxsize=256)
def problems_of(model: type[Model]) -> tuple[str, ...]:
    """Everything that is wrong with a model's declarations; empty if it may be used."""
    other = other_version(model)
    if other:
        return (other,)
    strange = tuple(p for p in model.parameters if not isinstance(p, AnyParameter))
    if strange:
        return (f"`parameters` holds something that is not a declaration: {strange[0]!r}",)
    try:
        return tuple(problem for check in CHECKS for problem in check(model))
    except Exception as error:  # a declaration of a wholly wrong type
        return (f"its declarations cannot be read ({type(error).__name__}: {error})",)


def other_version(model: type[Model]) -> str:
    """What keeps a model from this version of the interface; "" if it was written for it.

    Its own class must say so: a number inherited would be that of today, whatever its author knew.
    """
    has = f"this program has version {INTERFACE_VERSION}"
    version = vars(model).get("interface")
    if version is None:
        return (
            "does not say for which version of the plugin interface it was written (a line such as "
            f"`interface = {INTERFACE_VERSION}` in its class); {has}"
        )
    if type(version) is not int:
        return f"says `interface = {version!r}`, which is no whole number; {has}"
    if version != INTERFACE_VERSION:
        return f"was written for version {version} of the plugin interface; {has}"
    return ""


def kind_of(model: type[Model]) -> str:
    """The declared kind, "" if there is none."""
    return str(getattr(model, "kind", ""))


def seen_names(model: type[Model]) -> set[str]:
    """Parameter names that the law sees: windows split in two, derived ones added."""
    names = set(model.derived)
    for parameter in model.parameters:
        if isinstance(parameter, Window):
            names |= {f"{parameter.name}_low", f"{parameter.name}_high"}
        else:
            names.add(parameter.name)
    return names


def _basics(model: type[Model]) -> Iterable[str]:
    if not _NAME.match(model.name):
        yield f"`name` is `{model.name}`; use small letters, digits and _"
    kind = getattr(model, "kind", None)
    if kind not in KINDS:
        yield f"`kind` is `{kind}`; it is one of {', '.join(KINDS)}"
    if not model.summary.strip():
        yield "`summary` is empty; say in one line what it is"


def _parameter_names(model: type[Model]) -> Iterable[str]:
    names = [parameter.name for parameter in model.parameters]
    names += [p.inverse for p in model.parameters if isinstance(p, Hours) and p.inverse]
    for name, count in Counter(names).items():
        if count > 1:
            yield f"parameter `{name}` is declared {count} times"
        if name in COMMON_ENTRIES:
            yield f"parameter `{name}` is known to every device and may not be declared"
        if not _NAME.match(name):
            yield f"parameter `{name}`: use small letters, digits and _"
    for name in set(model.derived) & set(names):
        yield f"derived `{name}` is a parameter already"


def _parameter_texts(model: type[Model]) -> Iterable[str]:
    for parameter in model.parameters:
        if not parameter.help.strip():
            yield f"parameter `{parameter.name}` has no help"
        if isinstance(parameter, Parameter | Window | ShareByHour | Choice):
            if parameter.required and parameter.default is not None:
                yield f"parameter `{parameter.name}` is required and has a default"
            if parameter.default is not None and not parameter.basis.strip():
                yield f"parameter `{parameter.name}`: `basis` must say where its default is from"
        if isinstance(parameter, Parameter | Window):
            yield from _quantity(parameter)
        if isinstance(parameter, Choice):
            if not parameter.words:
                yield f"parameter `{parameter.name}` has no words to choose from"
            if parameter.default is not None and parameter.default not in parameter.words:
                yield f"parameter `{parameter.name}`: default `{parameter.default}` is no choice"


def _quantity(parameter: Parameter | Window) -> Iterable[str]:
    name = parameter.name
    if parameter.dimension not in MEANINGS:
        yield f"parameter `{name}`: unknown dimension `{parameter.dimension}`"
        return
    if parameter.shown_unit:
        try:
            unit = read_unit(parameter.shown_unit)
        except UnitProblem:
            yield f"parameter `{name}`: unknown unit `{parameter.shown_unit}`"
            return
        if unit.dims != MEANINGS[parameter.dimension].dims:
            yield f"parameter `{name}`: `{parameter.shown_unit}` is no {parameter.dimension}"
    bounded = parameter.low is not None or parameter.high is not None
    if bounded and not parameter.bound_reason.strip():
        yield f"parameter `{name}` has bounds but no `bound_reason`"
    values: tuple[float, ...] = ()
    if isinstance(parameter, Window):
        values = parameter.default or ()
        if len(values) == 2 and values[0] > values[1]:
            yield f"parameter `{name}`: the default's low end is above its high end"
    elif parameter.default is not None:
        values = (parameter.default,)
    low = -math.inf if parameter.low is None else parameter.low
    high = math.inf if parameter.high is None else parameter.high
    for value in values:
        if not low <= value <= high:
            yield f"parameter `{name}`: its default lies outside its own bounds"


def _only_with(model: type[Model]) -> Iterable[str]:
    choices = {p.name: p.words for p in model.parameters if isinstance(p, Choice)}
    for parameter in model.parameters:
        if isinstance(parameter, Parameter) and parameter.only_with is not None:
            choice, word = parameter.only_with
            if word not in choices.get(choice, ()):
                yield f"parameter `{parameter.name}` counts only with `{choice} {word}`, no choice"
            if parameter.required:
                yield f"parameter `{parameter.name}` is required and counts only with a choice"


def _terminals(model: type[Model]) -> Iterable[str]:
    if not model.terminals:
        yield "it has no terminal, so no cable could reach it"
    plain = [each for each in model.terminals if isinstance(each, Terminal)]
    names = [terminal.name for terminal in plain]
    for name, count in Counter([*names, *model.inner]).items():
        if count > 1:
            yield f"terminal `{name}` is declared {count} times"
        if not _NAME.match(name):
            yield f"terminal `{name}`: use small letters, digits and _"
    if sum(terminal.main for terminal in plain) > 1:
        yield "more than one terminal is `main`"
    if sum(terminal.seeking for terminal in plain) > 1:
        yield "more than one terminal is `seeking`"
    for terminal in model.terminals:
        if not terminal.help.strip():
            yield "a terminal has no help"
        if isinstance(terminal, Ways):
            yield from _ways(model, terminal)


def _ways(model: type[Model], ways: Ways) -> Iterable[str]:
    if model.law is not None:
        yield "numbered ways are only for blocks with `links` and without a law"
    counts = {p.name: p for p in model.parameters if isinstance(p, Parameter)}
    count = counts.get(ways.count)
    if count is None:
        yield f"its ways are counted by `{ways.count}`, which is no parameter"
    elif not count.whole or count.low is None or count.low < 0.0 or count.high is None:
        yield f"parameter `{ways.count}` counts ways: it must be whole, with a low and a high bound"


def _law(model: type[Model]) -> Iterable[str]:
    linked = model.links is not Model.links
    if model.law is None and not linked:
        yield "it has neither a law nor links"
    if model.law is not None and linked:
        yield "it has both a law and links; one of them"
    seeking = any(isinstance(t, Terminal) and t.seeking for t in model.terminals)
    if seeking and model.floor is None:
        yield "a seeking terminal needs `floor`"
    if model.states and model.watch is None:
        yield "states need `watch`"
    stores = any(isinstance(s, Accumulator) and s.carries_charge for s in model.states)
    if stores and model.store is None:
        yield "a store of charge needs `store`"
    if model.law is not None and model.kind in ("converter", "storage") and model.heat is None:
        yield f"a {model.kind} needs `heat`"
    for name in ("law", "floor", "watch", "heat", "store"):
        value = getattr(model, name)
        if value is not None and not callable(value):
            yield f"`{name}` is not a function"


def _states(model: type[Model]) -> Iterable[str]:
    seen = seen_names(model)
    for name, count in Counter(state.name for state in model.states).items():
        if count > 1:
            yield f"state `{name}` is declared {count} times"
    for state in model.states:
        wanted: tuple[str, ...] = ()
        match state:
            case Accumulator():
                wanted = (state.initial,)
            case Latch():
                named = (state.set_after, state.clear_after, state.initial)
                wanted = tuple(name for name in named if isinstance(name, str) and name)
                if state.judged not in ("mean", "worst"):
                    yield f"state `{state.name}`: `judged` is `mean` or `worst`"
            case Lag():
                wanted = (state.tau,)
                if state.initial not in (*model.drives, *seen):
                    yield (
                        f"state `{state.name}` begins at `{state.initial}`, which is neither a "
                        "drive nor a parameter"
                    )
        for name in wanted:
            if name not in seen:
                yield f"state `{state.name}` refers to `{name}`, which is no parameter"


def _references(model: type[Model]) -> Iterable[str]:
    seen = seen_names(model)
    for name, count in Counter(model.drives).items():
        if count > 1:
            yield f"drive `{name}` is declared {count} times"
        if name in ("level", "offer"):
            yield f"drive `{name}` is filled in by the engine and may not be declared"
    if model.keying is not None:
        if model.keying.share not in model.drives:
            yield f"keying refers to `{model.keying.share}`, which is no drive"
        for name in (model.keying.mode, model.keying.mode_square):
            if name not in seen:
                yield f"keying refers to `{name}`, which is no parameter"
    if model.powered is not None:
        terminal, parameter = model.powered
        if terminal not in {t.name for t in model.terminals if isinstance(t, Terminal)}:
            yield f"`powered` refers to `{terminal}`, which is no terminal"
        if parameter not in seen:
            yield f"`powered` refers to `{parameter}`, which is no parameter"
        if model.demand not in model.drives and kind_of(model) == "load":
            yield "`powered` of a load needs `demand` beside it, the name of one of its drives"
    if model.bridged is not None:
        state, drive = model.bridged
        if model.powered is None:
            yield "`bridged` needs `powered` beside it"
        if state not in {each.name for each in model.states}:
            yield f"`bridged` refers to `{state}`, which is no state"
        if drive not in model.drives:
            yield f"`bridged` refers to `{drive}`, which is no drive"
    if model.demand and model.demand not in model.drives:
        yield f"`demand` refers to `{model.demand}`, which is no drive"
    if model.pushes and model.pushes not in seen:
        yield f"`pushes` refers to `{model.pushes}`, which is no parameter"
    for suspect in model.suspects:
        for name, _change in suspect.change:
            if name not in seen:
                yield f"a suspect changes `{name}`, which is no parameter"


CHECKS: tuple[Callable[[type[Model]], Iterable[str]], ...] = (
    _basics,
    _parameter_names,
    _parameter_texts,
    _only_with,
    _terminals,
    _law,
    _states,
    _references,
)
