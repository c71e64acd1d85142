"""One small model of each kind that keeps every promise, for the tests of the conformance suite."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Elementwise,
    Hours,
    Keying,
    Latch,
    Link,
    Model,
    Mounting,
    Parameter,
    ParameterProblem,
    ShareByHour,
    Suspect,
    Terminal,
    Values,
    Ways,
    Window,
    between,
    constant_current,
    constant_power,
    elementwise,
    where,
)

WATTS = Parameter(
    "watts",
    "power",
    "what it takes",
    required=True,
    low=0.0,
    bound_reason="a load takes power",
    example="6 W",
    shown_unit="W",
)
WORKS = Window(
    "works",
    "voltage",
    "where it works",
    default=(10.0, 15.0),
    low=0.5,
    high=100.0,
    bound_reason="supplies lie there",
    basis="invented for the tests",
    example="10 V .. 15 V",
    shown_unit="V",
)
LINE = Terminal("line", "its supply", main=True)


class Lamp(Model):
    """A load."""

    interface = 1
    name = "lamp"
    kind = "load"
    summary = "a lamp"
    leaves_out = "its inrush"
    parameters = (WATTS, WORKS, Hours("on", "when it is on", inverse="off"))
    terminals = (LINE,)
    drives = ("wanted",)
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def drive(site: Any, p: Values) -> Any:
        return {"wanted": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (constant_power(v.line, d.wanted * p.watts, p.works_low),)


class Beacon(Model):
    """A keyed load."""

    interface = 1
    name = "beacon"
    kind = "load"
    summary = "a beacon"
    leaves_out = "its fan"
    parameters = (
        Parameter("amps", "current", "keyed", required=True, example="2 A", shown_unit="A"),
        ShareByHour("sends", "how often", required=True, example="15 %"),
        WORKS,
    )
    terminals = (LINE,)
    derived = ("mode_mean", "mode_mean_square")
    drives = ("share",)
    keying = Keying()

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        if p["amps"] < 0.0:
            raise ParameterProblem("amps", "a beacon takes current")
        return {"mode_mean": 0.4, "mode_mean_square": 0.3}

    @staticmethod
    def drive(site: Any, p: Values) -> Any:
        return {"share": site.schedule(p["sends"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (constant_current(v.line, d.level * p.amps, p.works_low),)


@elementwise
def rest_volts(charge: Elementwise) -> Elementwise:
    """Voltage at rest [V]: 12 V empty, 14 V full."""
    return 12.0 + 2.0 * charge


class Cell(Model):
    """A store."""

    interface = 1
    name = "cell"
    kind = "storage"
    summary = "a battery"
    leaves_out = "its warmth"
    parameters = (
        Parameter(
            "capacity",
            "charge",
            "what it holds",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="a battery holds something",
            example="12 Ah",
            shown_unit="Ah",
        ),
        Parameter(
            "charge",
            "share",
            "how full it begins",
            default=0.9,
            low=0.0,
            high=1.0,
            bound_reason="it is a share",
            basis="invented for the tests",
            example="90 %",
            shown_unit="%",
        ),
    )
    terminals = (LINE,)
    derived = ("full_voltage",)
    pushes = "full_voltage"
    states = (Accumulator("charge", "charge", carries_charge=True), Latch("empty"))
    suspects = (Suspect("too small", "twice the battery", (("capacity", "*2"),), sizing=True),)

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        return {"full_voltage": 14.0}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = (v.line - rest_volts(x.charge)) / 0.05
        giving = where((x.empty > 0.5) | (x.charge <= 0.0), 0.0, np.minimum(amps, 0.0))
        return (giving + np.minimum(np.maximum(amps, 0.0), 20.0 * (1.0 - x.charge)),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return i[0] / p.capacity, x.charge <= 0.0, x.charge > 0.02

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return (v.line - rest_volts(x.charge)) * i[0]

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return rest_volts(x.charge) * i[0]

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        return 0.1 + 0.0 * x.charge

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        return p.capacity * (12.0 * charge + charge**2)


class Panel(Model):
    """A source with light, hours, and a private node."""

    interface = 1
    name = "panel"
    kind = "source"
    summary = "a panel"
    leaves_out = "its warmth"
    parameters = (
        Parameter("amps", "current", "in full sun", required=True, example="2 A", shown_unit="A"),
        Mounting("mount", "how it stands", required=True),
        Parameter(
            "top",
            "voltage",
            "the most it gives",
            default=20.0,
            low=1.0,
            high=300.0,
            bound_reason="panels lie there",
            basis="invented for the tests",
            example="20 V",
        ),
    )
    terminals = (Terminal("out", "its leads", main=True),)
    inner = ("junction",)
    drives = ("light",)
    pushes = "top"

    @staticmethod
    def drive(site: Any, p: Values) -> Any:
        return {"light": site.plane_irradiance(p["mount"]) / 1000.0}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        out = (v.out - v.junction) / 0.1
        gives = d.light * np.abs(p.amps) * between((p.top - v.junction) / 2.0, 0.0, 1.0)
        return out, -gives * between(v.junction, 0.0, 1.0) - out


class Engine(Model):
    """A source with a tank; it runs dry by a latch."""

    interface = 1
    name = "engine"
    kind = "source"
    summary = "a generator"
    leaves_out = "its noise"
    parameters = (
        Parameter(
            "tank",
            "energy",
            "what its fuel gives",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="a tank holds something",
            example="900 Wh",
            shown_unit="Wh",
        ),
        Hours("on", "when it may run"),
    )
    terminals = (Terminal("out", "its output", main=True, alternating=True),)
    drives = ("may_run",)
    derived = ("begin", "top")
    pushes = "top"
    states = (Accumulator("fuel", "begin"), Latch("dry"))

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        return {"begin": 1.0, "top": 230.0}

    @staticmethod
    def drive(site: Any, p: Values) -> Any:
        return {"may_run": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        runs = d.may_run * (1.0 - x.dry)
        return (-runs * between(230.0 - v.out, 0.0, 5.0) * between(v.out / 10.0, 0.0, 1.0),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return v.out * i[0] / p.tank, x.fuel <= 0.0, x.fuel > 0.1


class Charger(Model):
    """A converter with a seeking terminal."""

    interface = 1
    name = "charger"
    kind = "converter"
    summary = "a controller"
    leaves_out = "its scan"
    parameters = (
        Parameter(
            "limit",
            "voltage",
            "the most its input may see",
            required=True,
            low=1.0,
            high=300.0,
            bound_reason="inputs lie there",
            example="50 V",
        ),
    )
    terminals = (
        Terminal("panel", "the panels", seeking=True, limit="limit"),
        Terminal("out", "the battery", main=True, gives=True),
    )
    derived = ("top",)
    pushes = "top"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        return {"top": 14.4}

    @staticmethod
    def floor(v: Any, x: Any, d: Any, p: Any) -> Any:
        return v.out + 1.0

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        most = d.offer * 0.9 / np.maximum(v.out, 1.0)
        amps = between(v.out, 0.0, 1.0) * between((14.4 - v.out) / 0.02, 0.0, most)
        return np.maximum(v.out, 0.0) * amps / 0.9, -amps

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return i[0] * (1.0 - 0.9)


class Bar(Model):
    """A block of plain resistances."""

    interface = 1
    name = "bar"
    kind = "block"
    summary = "a bar"
    leaves_out = "its warmth"
    parameters = (
        Parameter(
            "ways",
            "number",
            "outlets",
            required=True,
            low=1.0,
            high=16.0,
            whole=True,
            bound_reason="bars have a few",
            example="4",
        ),
        Parameter(
            "contact",
            "resistance",
            "of each",
            default=0.001,
            low=1e-6,
            high=1.0,
            bound_reason="contacts lie there",
            basis="invented for the tests",
            example="1 mohm",
            shown_unit="mohm",
        ),
    )
    terminals = (Terminal("in", "its feed", main=True), Ways("ways", "outlets"))

    @staticmethod
    def links(p: Values) -> Any:
        return tuple(Link("in", str(k), p["contact"]) for k in range(1, int(p["ways"]) + 1))


CONFORMING: tuple[type[Model], ...] = (Lamp, Beacon, Cell, Panel, Engine, Charger, Bar)
