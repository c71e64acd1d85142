"""What the named tuples of a model's law hold, and in which order.

Shared by the kernel generator, the numpy twin and the evaluation of laws over a record.
"""

from __future__ import annotations

import keyword
from collections import namedtuple
from dataclasses import dataclass
from functools import cache
from typing import Any

from copperpath.plugin_api import Latch, Model, Parameter, Terminal, Window


@dataclass(frozen=True, slots=True)
class LawShape:
    """Field names of the four tuples a law takes, and what it returns.

    `seek_place` is where in the returned tuple the watts of a seeking terminal stand (-1 none);
    the other places are the currents of `v_fields`, in order.
    """

    v_fields: tuple[str, ...]
    x_fields: tuple[str, ...]
    d_fields: tuple[str, ...]
    p_fields: tuple[str, ...]
    seek_place: int
    signals: int
    v_type: Any
    x_type: Any
    d_type: Any
    p_type: Any

    def currents(self, returned: tuple[Any, ...]) -> list[Any]:
        """The law's currents without the watts of a seeking terminal."""
        return [value for place, value in enumerate(returned) if place != self.seek_place]


def field_name(name: str) -> str:
    """A name as a field of a tuple: `in` becomes `in_`."""
    return name + "_" if keyword.iskeyword(name) else name


@cache
def law_shape(model: type[Model]) -> LawShape:
    """The shape of one model's law."""
    terminals = [terminal for terminal in model.terminals if isinstance(terminal, Terminal)]
    seeking = [place for place, terminal in enumerate(terminals) if terminal.seeking]
    v_fields = [t.name for t in terminals if not t.seeking] + list(model.inner)
    p_fields: list[str] = []
    for parameter in model.parameters:
        if isinstance(parameter, Parameter):
            p_fields.append(parameter.name)
        elif isinstance(parameter, Window):
            p_fields += [parameter.name + "_low", parameter.name + "_high"]
    p_fields += model.derived
    d_fields = list(model.drives)
    if model.keying is not None:
        d_fields.append("level")
    if seeking:
        d_fields.append("offer")
    groups = [
        tuple(field_name(name) for name in names)
        for names in (v_fields, [state.name for state in model.states], d_fields, p_fields)
    ]
    v, x, d, p = groups
    signals = sum(2 if isinstance(state, Latch) else 1 for state in model.states)
    return LawShape(
        v_fields=v,
        x_fields=x,
        d_fields=d,
        p_fields=p,
        seek_place=seeking[0] if seeking else -1,
        signals=signals,
        v_type=namedtuple("V", v),
        x_type=namedtuple("X", x),
        d_type=namedtuple("D", d),
        p_type=namedtuple("P", p),
    )
