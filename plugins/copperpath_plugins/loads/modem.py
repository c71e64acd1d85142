"""A data modem: a packet modem, a cellular modem, a satellite modem."""

from __future__ import annotations

from typing import Any

from copperpath.plugin_api import (
    FloatArray,
    Hours,
    Keying,
    Model,
    Parameter,
    ParameterProblem,
    ShareByHour,
    Surroundings,
    Terminal,
    Values,
    constant_power,
)
from copperpath_plugins.loads.works import works_window
from copperpath_plugins.values import given

GIVES_NONE = "a modem takes power, it does not give any"


class Modem(Model):
    """Watts = idle + level (peak - idle). While it sends, its bursts fill so much of the time that
    the mean is `sending`; in the worst instant it stands in a burst."""

    interface = 1
    name = "modem"
    kind = "load"
    summary = "a data modem: idle, sending for a share of its hours, and the peak of its bursts"
    leaves_out = (
        "which network it is on and how far away (that makes most of the power of sending); its "
        "search for a network after it starts; sleep between messages (give the mean as `idle`)"
    )
    parameters = (
        Parameter(
            "idle",
            "power",
            "what it takes while it waits and listens",
            required=True,
            low=0.0,
            bound_reason=GIVES_NONE,
            example="1 W",
            shown_unit="W",
        ),
        Parameter(
            "sending",
            "power",
            "what it takes on the mean while it sends",
            required=True,
            low=0.0,
            bound_reason=GIVES_NONE,
            example="4 W",
            shown_unit="W",
        ),
        Parameter(
            "peak",
            "power",
            "what it takes within a burst while it sends; as `sending` if not given",
            low=0.0,
            bound_reason=GIVES_NONE,
            basis="it sends without bursts",
            example="8 W",
            shown_unit="W",
        ),
        Parameter(
            "asleep",
            "power",
            "what it takes outside its hours",
            default=0.0,
            low=0.0,
            bound_reason=GIVES_NONE,
            basis="switched off outside its hours",
            example="0.02 W",
            shown_unit="W",
        ),
        ShareByHour(
            "transmitting", "the share of its hours in which it sends", required=True, example="5 %"
        ),
        Hours("on", "when it is on", inverse="off"),
        works_window(9.0, 30.0, "modems for vehicles and industry, from memory"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("most", "mode_mean", "mode_mean_square")
    drives = ("wanted", "share")
    keying = Keying()
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """The most it takes, and the mean level while it sends: either in a burst or idle."""
        idle, sending, peak = float(p["idle"]), float(p["sending"]), given(p, "peak")
        most = sending if peak is None else peak
        for name, low, high, word in (
            ("sending", idle, sending, "it takes idle"),
            ("peak", sending, most, "it takes sending"),
        ):
            if high < low:
                raise ParameterProblem(
                    name,
                    f"{name} {high:.4g} W is below the {low:.4g} W that {word}",
                    "are the two the wrong way round?",
                )
        mean = (sending - idle) / (most - idle) if most > idle else 1.0
        return {"most": most, "mode_mean": mean, "mode_mean_square": mean}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on; `share`: for which it sends."""
        wanted = site.schedule(p["on"])
        return {"wanted": wanted, "share": wanted * site.schedule(p["transmitting"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        waiting = d.wanted * p.idle + (1.0 - d.wanted) * p.asleep
        return (constant_power(v.line, waiting + d.level * (p.most - p.idle), p.works_low),)
