"""A thing charged or fed from a 5 V outlet: a phone, a tablet, a lamp."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    FloatArray,
    Hours,
    Model,
    Parameter,
    ParameterProblem,
    Surroundings,
    Terminal,
    Values,
    Window,
    constant_power,
)
from copperpath_plugins.values import given, share_of_day


class UsbDevice(Model):
    """An energy a day, spread evenly over the hours it is plugged in, or a plain power."""

    interface = 1
    name = "usb_device"
    kind = "load"
    summary = "a phone, tablet or lamp on a 5 V outlet, by its energy a day or its power"
    leaves_out = (
        "charging in bursts: the day's energy is spread evenly over the hours it is plugged in; "
        "its own battery; higher voltages that some outlets agree on (5 V only)"
    )
    parameters = (
        Parameter(
            "needs",
            "power",
            "the energy it takes from its outlet in a day (give this or `power`)",
            low=0.0,
            bound_reason="a load takes energy, it does not give any",
            example="12 Wh/day",
            shown_unit="Wh/day",
        ),
        Parameter(
            "power",
            "power",
            "what it takes while on (give this or `needs`)",
            low=0.0,
            bound_reason="a load takes power, it does not give any",
            example="6 W",
            shown_unit="W",
        ),
        Parameter(
            "limit",
            "power",
            "the most it takes from its outlet",
            default=7.5,
            low=0.0,
            low_allowed=False,
            bound_reason="with a limit of zero it could take nothing",
            basis="5 V at 1.5 A, an ordinary charging outlet, from memory",
            example="7.5 W",
            shown_unit="W",
        ),
        Hours("on", "when it is plugged in", inverse="off"),
        Window(
            "works",
            "voltage",
            "the voltages between which it charges",
            default=(4.5, 5.5),
            low=0.5,
            high=60.0,
            bound_reason="an outlet of this kind gives between 0.5 V and 60 V",
            basis="5 V outlet: 5.5 V is the published top, 4.5 V at the end of a lead from memory",
            example="4.5 V .. 5.5 V",
            shown_unit="V",
        ),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("watts",)
    drives = ("wanted",)
    powered = ("line", "works_low")
    demand = "wanted"
    on_surplus = "usb_device_on_surplus"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Watts while plugged in."""
        needs, power, limit = given(p, "needs"), given(p, "power"), float(p["limit"])
        if needs is None and power is None:
            raise ParameterProblem(
                "needs",
                "it is not said how much this device takes",
                "give `needs 12 Wh/day` or `power 6 W`",
            )
        if needs is not None and power is not None:
            raise ParameterProblem(
                "power", "`needs` already says what it takes", "keep one of `needs` and `power`"
            )
        if power is not None:
            if power > limit:
                raise ParameterProblem(
                    "power",
                    f"takes {power:.3g} W, but its limit is {limit:.3g} W",
                    f"give the limit of its outlet, such as `limit {power:.3g} W`",
                )
            return {"watts": power}
        if p["on"].dated:
            raise ParameterProblem(
                "needs",
                "an energy a day cannot be spread over hours that change with the date",
                "give `power 6 W`, what it takes while it is plugged in",
            )
        share = share_of_day(p["on"])
        assert needs is not None
        if needs > limit * share * (1.0 + 1e-9):
            hours = 24.0 * share
            raise ParameterProblem(
                "needs",
                f"{needs * 24.0:.3g} Wh a day do not fit into {hours:.3g} hours a day at the limit "
                f"of {limit:.3g} W, which give {limit * hours:.3g} Wh",
                "leave it plugged in for longer, or raise `limit`",
            )
        return {"watts": needs / share if needs > 0.0 else 0.0}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is plugged in."""
        return {"wanted": site.schedule(p["on"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        return (constant_power(v.line, d.wanted * p.watts, p.works_low),)
