"""Models with one fault each, beside the title of the check that is meant to find it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from support.conforming_models import (
    LINE,
    WATTS,
    Bar,
    Beacon,
    Cell,
    Charger,
    Engine,
    Lamp,
    Panel,
    rest_volts,
)

from copperpath.plugin_api import (
    Accumulator,
    Latch,
    Link,
    Model,
    Parameter,
    ParameterProblem,
    Suspect,
    constant_power,
    where,
)

HUGE = 2**62
"""Four times it does not fit into the whole numbers of compiled code."""


class NoSummary(Lamp):
    interface = 1
    summary = ""


class LeavesNothingOut(Lamp):
    interface = 1
    leaves_out = " "


class NoMainTerminal(Lamp):
    interface = 1
    terminals = (replace(LINE, main=False),)


class SuspectsNoLatch(Cell):
    interface = 1
    suspects = (Suspect("cold", "warmth", (("capacity", "*2"),), latch="frost"),)


class ExampleInAmperes(Lamp):
    interface = 1
    parameters = (replace(WATTS, example="6 A"), *Lamp.parameters[1:])


class BoundsOfNothing(Lamp):
    interface = 1
    parameters = (replace(WATTS, high=float("nan")), *Lamp.parameters[1:])


class RefusesAll(Lamp):
    interface = 1

    @staticmethod
    def derive(p: Any) -> Any:
        raise ParameterProblem("watts", "is never right")


class StumblesOverNothing(Lamp):
    interface = 1
    parameters = (replace(WATTS, required=False), *Lamp.parameters[1:])
    derived = ("share",)

    @staticmethod
    def derive(p: Any) -> Any:
        return {"share": {6.0: 1.0}[p["watts"]]}


class LimitInWatts(Lamp):
    interface = 1
    terminals = (replace(LINE, limit="watts"),)


class NeedsNoVolts(Lamp):
    interface = 1
    derived = ("least",)
    powered = ("line", "least")

    @staticmethod
    def derive(p: Any) -> Any:
        return {"least": 0.0}


class LevelsApart(Beacon):
    interface = 1

    @staticmethod
    def derive(p: Any) -> Any:
        return {"mode_mean": 0.4, "mode_mean_square": 0.9}


class LinksWithoutOhms(Bar):
    interface = 1

    @staticmethod
    def links(p: Any) -> Any:
        return (Link("in", "1", 0.0),)


class LinksElsewhere(Bar):
    interface = 1

    @staticmethod
    def links(p: Any) -> Any:
        return (Link("in", "99", 0.1),)


class DrivesOneNumber(Lamp):
    interface = 1

    @staticmethod
    def drive(site: Any, p: Any) -> Any:
        return {"wanted": 1.0}


class DrivesTooMuch(Lamp):
    interface = 1

    @staticmethod
    def drive(site: Any, p: Any) -> Any:
        return {"wanted": 2.0 * site.schedule(p["on"]) + 1.0}


class DrivesAnother(Lamp):
    interface = 1

    @staticmethod
    def drive(site: Any, p: Any) -> Any:
        return {"wanted": site.schedule(p["on"]), "more": site.air_k}


class DividesByLight(Panel):
    interface = 1

    @staticmethod
    def drive(site: Any, p: Any) -> Any:
        with np.errstate(all="ignore"):
            return {"light": 1.0 / site.plane_irradiance(p["mount"])}


class DriveStumbles(Panel):
    interface = 1

    @staticmethod
    def drive(site: Any, p: Any) -> Any:
        return {"light": site.moonlight}


class AsksIf(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (constant_power(v.line, p.watts, p.works_low) if v.line > 0.0 else 0.0,)


class ReturnsNoTuple(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return constant_power(v.line, d.wanted * p.watts, p.works_low)


class WatchesTooLittle(Cell):
    interface = 1

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return (i[0] / p.capacity, x.charge <= 0.0)


class DividesByVolts(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (where(v.line == 0.0, 0.0, p.watts / v.line),)


class LosesItself(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (0.1 * np.sqrt(v.line),)


class SwitchesInItsLaw(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (where(v.line > 11.5, 0.1 * v.line, 0.0),)


class JumpsALittle(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (where(v.line > 47.0, 0.1001 * v.line, 0.1 * v.line),)


class JumpsWithTheOffer(Charger):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = where(d.offer > 60.0, 1.0, 0.5) * np.minimum(np.maximum(v.out, 0.0), 1.0)
        amps = where((v.out < 14.4) & (d.offer > 30.0), amps, 0.0)
        return np.maximum(v.out, 0.0) * amps / 0.9, -amps


class DrawsAtRest(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (0.01 + 0.1 * v.line,)


class AveragesThePoints(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (v.line * (1.0 + np.mean(d.wanted)),)


class FlattensItsInputs(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (0.1 * np.ravel(v.line),)


def helper_without_mark(volts: Any) -> Any:
    return 0.1 * volts


class CallsAHelper(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (helper_without_mark(v.line),)


class OverflowsWhenCompiled(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (0.1 * v.line * (HUGE * 4 / HUGE),)


class ForgetsItsIdleDraw(Charger):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        watts = np.minimum(d.offer, 10.0) * np.minimum(np.maximum(v.out, 0.0), 1.0)
        watts = where(v.out < 14.4, watts, 0.0)
        return watts, 0.001 * v.out + 0.0 * watts

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return i[0]


class MoreThanItTakes(Charger):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = np.minimum(d.offer, 10.0) / 10.0 * np.minimum(np.maximum(v.out, 0.0), 1.0)
        return amps * v.out / 1.2, -amps

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return i[0] + v.out * i[1]


class PushesBackwards(Lamp):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (0.1 * np.abs(v.line),)


class TakesMoreThanIsOffered(Charger):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return 1.1 * d.offer * np.minimum(np.abs(v.out), 1.0), 0.0 * v.out


class ShinesAtNight(Panel):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        out = (v.out - v.junction) / 0.1
        gives = (1.0 + d.light) * np.minimum(np.maximum(20.0 - v.junction, 0.0), 1.0)
        return out, -gives * np.minimum(np.maximum(v.junction, 0.0), 1.0) - out


class BendsBothWays(Panel):
    """Its current fades towards 0 V, which bends the other way."""

    interface = 1
    concave = True


class GivesMoreAtMore(Panel):
    interface = 1
    concave = True

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (v.out - v.junction) / 0.1, -d.light * v.junction - (v.out - v.junction) / 0.1


class DrawsAcross(Panel):
    interface = 1
    concave = True

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return (v.out + v.junction) / 0.1, v.junction - d.light


class GivesWithAnEmptyTank(Engine):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = np.minimum(np.maximum(230.0 - v.out, 0.0), 5.0)
        return (-d.may_run * amps * np.minimum(np.maximum(v.out, 0.0), 1.0),)


class GivesWhenEmpty(Cell):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = (v.line - rest_volts(x.charge)) / 0.05
        return (np.minimum(amps, 20.0 * (1.0 - x.charge)),)


class NeverFull(Cell):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        amps = (v.line - rest_volts(x.charge)) / 0.05
        return (where((x.empty > 0.5) | (x.charge <= 0.0), np.maximum(amps, 0.0), amps),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        rate = where(x.charge >= 1.0, np.minimum(i[0], 0.0), i[0])
        return rate / p.capacity, x.charge <= 0.0, x.charge > 0.02


class CountsOnlyHalf(Cell):
    interface = 1

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        return p.capacity * 6.0 * charge


class PlansBeyondFull(Cell):
    interface = 1

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        return 1.5 + 0.0 * x.charge


class GivesAboveItsTop(Panel):
    interface = 1

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        return -d.light * np.minimum(np.maximum(v.out, 0.0), 1.0), 0.0 * v.junction


class HalfALatch(Cell):
    interface = 1

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return i[0] / p.capacity, 0.5 * x.charge, x.charge > 0.02


class RateOfNoNumber(Cell):
    interface = 1

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return i[0] / (p.capacity * 0.0 * x.charge), x.charge <= 0.0, x.charge > 0.02


class BeginsOverfull(Cell):
    interface = 1
    parameters = (Cell.parameters[0], replace(Cell.parameters[1], high=5.0))


class WaitsBackwards(Cell):
    interface = 1
    parameters = (
        *Cell.parameters,
        Parameter("wait", "time", "a delay", required=True, example="-5 s"),
    )
    states = (Accumulator("charge", "charge", carries_charge=True), Latch("empty", "wait"))


class CountsOnWhenFull(Cell):
    interface = 1

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        return 0.001 + 0.0 * v.line, x.charge <= 0.0, x.charge > 0.02


class SeeksTheMains(Charger):
    interface = 1
    terminals = (replace(Charger.terminals[0], alternating=True), Charger.terminals[1])


ENTRIES = "a station file is read and refused by name"
DEVICES = "values within the bounds make a device"
SENSE = "voltages, needs and levels make sense"
LINKS = "links join its terminals"
DRIVES = "inputs over time are finite, one a step"
FINITE = "finite at any voltage within 400 V"
CONTENTS = "contents, store and charge go together"
JUMPS = "no jumps in any voltage"
EXPLAINED = "everything is explained"
ARRAYS = "its functions take arrays"
CURVE = "its curve is concave"
SIGNALS = "signals of its states can be used"
BEGIN = "states begin within their bounds"

BREACHING: tuple[tuple[type[Model], str], ...] = (
    (NoSummary, "its declarations are in order"),
    (LeavesNothingOut, EXPLAINED),
    (NoMainTerminal, EXPLAINED),
    (SuspectsNoLatch, EXPLAINED),
    (ExampleInAmperes, ENTRIES),
    (BoundsOfNothing, ENTRIES),
    (RefusesAll, DEVICES),
    (StumblesOverNothing, DEVICES),
    (LimitInWatts, SENSE),
    (NeedsNoVolts, SENSE),
    (LevelsApart, SENSE),
    (SeeksTheMains, SENSE),
    (LinksWithoutOhms, LINKS),
    (LinksElsewhere, LINKS),
    (DrivesOneNumber, DRIVES),
    (DrivesTooMuch, DRIVES),
    (DrivesAnother, DRIVES),
    (DividesByLight, DRIVES),
    (DriveStumbles, DRIVES),
    (AsksIf, ARRAYS),
    (ReturnsNoTuple, ARRAYS),
    (WatchesTooLittle, ARRAYS),
    (DividesByVolts, FINITE),
    (LosesItself, FINITE),
    (SwitchesInItsLaw, JUMPS),
    (JumpsALittle, JUMPS),
    (JumpsWithTheOffer, JUMPS),
    (DrawsAtRest, "nothing drawn at 0 V"),
    (AveragesThePoints, "numbers give what arrays give"),
    (FlattensItsInputs, "devices, cases and times broadcast"),
    (CallsAHelper, "its text can be compiled"),
    (OverflowsWhenCompiled, "compiled and numpy agree to 1e-12"),
    (ForgetsItsIdleDraw, "power taken is heat and store"),
    (MoreThanItTakes, "power taken is heat and store"),
    (PushesBackwards, "it takes power and gives none"),
    (TakesMoreThanIsOffered, "it takes no more than is offered"),
    (ShinesAtNight, "it gives nothing without light or hours"),
    (GivesWithAnEmptyTank, "it gives nothing when empty"),
    (GivesWhenEmpty, "it gives nothing when empty"),
    (NeverFull, "a full store takes nothing more"),
    (CountsOnlyHalf, CONTENTS),
    (PlansBeyondFull, CONTENTS),
    (BendsBothWays, CURVE),
    (GivesMoreAtMore, CURVE),
    (DrawsAcross, CURVE),
    (GivesAboveItsTop, "it gives nothing above `pushes`"),
    (HalfALatch, SIGNALS),
    (RateOfNoNumber, SIGNALS),
    (BeginsOverfull, BEGIN),
    (WaitsBackwards, BEGIN),
    (CountsOnWhenFull, "charge stays within its bounds"),
)
