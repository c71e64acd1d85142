"""A charging dock for handheld radios."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    FloatArray,
    Hours,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    constant_power,
)
from copperpath_plugins.loads.own_battery import (
    CHARGING_LEAVES_OUT,
    battery_parameters,
    charged_watts,
    charging_watts,
)
from copperpath_plugins.loads.works import works_window
from copperpath_plugins.values import share_of_day


class Dock(Model):
    """Handhelds that leave it together, use a part of their charge, and come back to be charged.

    It counts as short once the handhelds are empty: a night without supply harms nobody whose
    battery lasts.
    """

    interface = 1
    name = "dock"
    kind = "load"
    summary = "a charging dock for handhelds: by their hours in it and the energy they use a day"
    leaves_out = (
        "handhelds that come and go one by one (all leave and return together, all at the same "
        "charge); spare batteries; " + CHARGING_LEAVES_OUT
    )
    parameters = (
        Parameter(
            "handhelds",
            "number",
            "how many handhelds it holds",
            required=True,
            low=1.0,
            high=100.0,
            bound_reason="a dock holds between one handheld and a hundred",
            example="4",
            whole=True,
        ),
        *battery_parameters(
            "the energy that the battery of one handheld holds",
            "13 Wh",
            7.0,
            "7.4 V at 0.8 A and the charger's loss, from memory",
        ),
        Parameter(
            "needs",
            "power",
            "the energy that one handheld uses in a day, all of it while out of the dock",
            required=True,
            low=0.0,
            high=50.0,
            bound_reason="a handheld uses no more than 1200 Wh a day, and gives none",
            example="6 Wh/day",
            shown_unit="Wh/day",
        ),
        Parameter(
            "tail",
            "power",
            "what the slot of one handheld takes while it is in it, full or not",
            default=0.15,
            low=0.0,
            high=20.0,
            bound_reason="a slot that keeps a battery full takes little, and gives nothing",
            basis="0.1 to 0.3 W, from memory",
            example="0.15 W",
            shown_unit="W",
        ),
        Parameter(
            "standby",
            "power",
            "what the dock itself takes, with or without handhelds",
            default=0.3,
            low=0.0,
            high=20.0,
            bound_reason="a dock takes power, it does not give any",
            basis="0.2 to 0.5 W with its lamps, from memory",
            example="0.3 W",
            shown_unit="W",
        ),
        Hours("docked", "when the handhelds are in it: `out 08:00 to 18:00`", inverse="out"),
        works_window(10.5, 16.0, "a dock fed from a 12 V battery, from memory"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("held", "used_watts")
    drives = ("wanted", "docked")
    states = (Accumulator("charge", "charge"),)
    powered = ("line", "works_low")
    demand = "wanted"
    bridged = ("charge", "docked")

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Energy of all batteries, and what all handhelds use while they are out."""
        count, needs, docked = float(p["handhelds"]), float(p["needs"]), p["docked"]
        held = {"held": count * float(p["battery"])}
        if needs == 0.0:
            return {**held, "used_watts": 0.0}
        if docked.dated:
            raise ParameterProblem(
                "needs",
                "an energy a day cannot be spread over hours that change with the date",
                "give `docked` or `out` by the hour alone, the same every day",
            )
        out = 1.0 - share_of_day(docked)
        if out <= 1e-9:
            raise ParameterProblem(
                "needs",
                "the handhelds are never out of the dock, so they cannot use anything",
                "say when they are in use: `out 08:00 to 18:00`",
            )
        return {**held, "used_watts": count * needs / out}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`docked`: share of each step in which the handhelds are in it; `wanted`: always."""
        docked = site.schedule(p["docked"])
        return {"wanted": np.ones_like(docked), "docked": docked}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        slot = p.tail + charging_watts(x.charge, p)
        return (constant_power(v.line, p.standby + d.docked * p.handhelds * slot, p.works_low),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of the charge of all handhelds [1/s]."""
        kept = p.standby + d.docked * p.handhelds * p.tail
        charging = charged_watts(np.maximum(v.line * i[0] - kept, 0.0), p)
        return ((charging - (1.0 - d.docked) * p.used_watts) / p.held,)
