"""Devices drawn at random from a model's declarations, built as a station file would build them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np

from copperpath.build.build_errors import ValuesDisagree
from copperpath.build.devices import build_device
from copperpath.build.parameters import is_required
from copperpath.build.scope import Scope
from copperpath.catalogue import Catalogue
from copperpath.conformance.declared_values import entry_text
from copperpath.plugin_api import Ambient, AnyParameter, Choice, Model, Parameter, Window
from copperpath.station import Device
from copperpath_grammar import Diagnostic, parse
from copperpath_grammar.nodes import DeviceNode

SPREADS = (0.0, 0.02, 0.1, 0.4, 1.0)
"""How far from its examples a device is drawn, as the logarithm of a factor; in turn."""
TRIES = 40
"""So often one device is drawn anew when its values are refused; half the spread after each ten."""
PRESENT = 0.45
"""Share of the draws in which an optional entry is written."""


@dataclass(frozen=True, slots=True)
class Draws:
    """Devices, each with the line that declares it, and what was refused.

    `refusals` counts the words of `ParameterProblem`; `stumbles` holds (declaration, mistake) of
    draws within the declared bounds that failed in another way.
    """

    devices: tuple[tuple[str, Device], ...]
    refused: int
    refusals: Counter[str]
    stumbles: tuple[tuple[str, Diagnostic], ...]


def draw_devices(model: type[Model], count: int, random: np.random.Generator) -> Draws:
    """`count` devices of a model whose declarations are in order; fewer if values are refused."""
    devices: list[tuple[str, Device]] = []
    refusals: Counter[str] = Counter()
    stumbles: list[tuple[str, Diagnostic]] = []
    for number in range(count):
        spread = SPREADS[number % len(SPREADS)]
        for attempt in range(TRIES):
            halved = spread * 0.5 ** (attempt // 10)
            text = declaration(model, random, halved, bare=number == 0 and attempt == 0)
            device, mistakes = build_declared(model, text)
            if device is not None:
                devices.append((text, device))
                break
            if not isinstance(mistakes[0], ValuesDisagree):
                stumbles.append((text, mistakes[0]))
                break
            refusals[f"`{mistakes[0].parameter}`: {mistakes[0].message}"] += 1
    return Draws(tuple(devices), refusals.total(), refusals, tuple(stumbles))


def declaration(
    model: type[Model], random: np.random.Generator, spread: float, *, bare: bool = False
) -> str:
    """A device as a station file declares it; `bare` with nothing but what must be given."""
    entries = [
        entry_text(parameter, random, spread)
        for parameter in model.parameters
        if is_required(parameter) or (not bare and random.random() < _chance(parameter))
    ]
    return f"{model.kind} sample : {model.name} {{ {'; '.join(entries)} }}"


def build_declared(model: type[Model], text: str) -> tuple[Device | None, tuple[Diagnostic, ...]]:
    """The device of a declaration, or None and its mistakes."""
    parsed = parse(text + "\n")
    if parsed.file is None or parsed.diagnostics:
        return None, parsed.diagnostics
    (node,) = parsed.file.statements
    assert isinstance(node, DeviceNode)
    scope = Scope()
    known = build_device(node, {}, Catalogue().with_models(model), scope)
    return known.device, tuple(scope.problems)


def _chance(parameter: AnyParameter) -> float:
    """How often an optional entry is written: what has a default more rarely."""
    if isinstance(parameter, Parameter | Window | Choice) and parameter.default is not None:
        return PRESENT
    return 0.3 if isinstance(parameter, Ambient) else PRESENT
