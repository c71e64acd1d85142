"""Models for tests only: what makes operating points hard to find, without any story around it."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Elementwise,
    Model,
    Parameter,
    Terminal,
    between,
    constant_power,
    elementwise,
    where,
)


def _numbers(*names: str) -> tuple[Parameter, ...]:
    return tuple(Parameter(name, "number", name, required=True) for name in names)


class Cell(Model):
    """A voltage behind a resistance; it refuses charge where `refuses` is 1."""

    interface = 1
    name = "cell"
    kind = "storage"
    parameters = _numbers("rest", "ohm", "refuses")
    terminals = (Terminal("line", "its poles", main=True),)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = (v.line - p.rest) / p.ohm
        return (where((p.refuses > 0.5) & (amps > 0.0), 0.0, amps),)


class Supply(Model):
    """Holds `set` with a droop, up to `limit` amperes; takes nothing."""

    interface = 1
    name = "supply"
    kind = "source"
    parameters = _numbers("set", "droop", "limit")
    terminals = (Terminal("line", "its output", main=True),)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (-between((p.set - v.line) / p.droop, 0.0, p.limit),)


class Valve(Model):
    """A diode: almost nothing backwards, a straight line above half a volt."""

    interface = 1
    name = "valve"
    kind = "block"
    parameters = _numbers("ohm")
    terminals = (Terminal("from", "anode", main=True), Terminal("to", "cathode"))

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = np.maximum(v.from_ - v.to - 0.5, 0.0) / p.ohm
        return amps, -amps


class Eater(Model):
    """A load that holds its power down to `lowest` volts."""

    interface = 1
    name = "eater"
    kind = "load"
    parameters = _numbers("watts", "lowest")
    terminals = (Terminal("line", "its supply", main=True),)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (constant_power(v.line, p.watts, p.lowest),)


@elementwise
def charger_amps(v: Elementwise, p: Elementwise) -> Elementwise:
    """What a charger gives [A]: within its limit, folded back as its input falls to `low`."""
    fold = between((v.from_ - p.low) / p.span, 0.0, 1.0)
    return fold * between((p.set - v.to) / p.droop, 0.0, p.limit)


class Charger(Model):
    """From one battery to another; folds back linearly over `span` volts of its input."""

    interface = 1
    name = "charger"
    kind = "converter"
    parameters = _numbers("set", "droop", "limit", "low", "span", "efficiency")
    terminals = (Terminal("from", "input", main=True), Terminal("to", "output", gives=True))

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = charger_amps(v, p)
        watts = np.maximum(v.to * amps, 0.0) / p.efficiency
        return watts / np.maximum(v.from_, p.low), -amps


class Stairs(Model):
    """A source whose power against voltage has two humps: one current up to `first`, a smaller
    one up to `second` volts."""

    interface = 1
    name = "stairs"
    kind = "source"
    parameters = _numbers("first", "more", "second", "less", "slope")
    terminals = (Terminal("out", "its leads", main=True),)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        low = between((p.first - v.out) / p.slope, 0.0, p.more - p.less)
        high = between((p.second - v.out) / p.slope, 0.0, p.less)
        return (-(low + high),)


class Divides(Model):
    """A load that divides by the distance from 0 volts and so has no current at rest."""

    interface = 1
    name = "divides"
    kind = "load"
    parameters = _numbers("watts")
    terminals = (Terminal("line", "its supply", main=True),)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (p.watts / (v.line - v.line),)


class Loses(Model):
    """A load whose current is not a number below 13 volts."""

    interface = 1
    name = "loses"
    kind = "load"
    parameters = _numbers("amps")
    terminals = (Terminal("line", "its supply", main=True),)

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (p.amps + 0.0 * np.sqrt(v.line - 13.0),)
