"""A repeater: it waits, sends while somebody talks through it, and for a tail after each over."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from copperpath.plugin_api import (
    FloatArray,
    Hours,
    Keying,
    Model,
    Parameter,
    ParameterProblem,
    Schedule,
    ShareByHour,
    Span24,
    Surroundings,
    Terminal,
    Values,
    constant_current,
)
from copperpath_plugins.loads.radio_supply import RADIO_WORKS
from copperpath_plugins.values import DAY_S, given


class Repeater(Model):
    """Amps = controller + waiting + level (transmit - waiting).

    Sent is the share of time in which somebody talks, longer by the tail after each over; while a
    signal holds it open, all of the time until its time-out, and then nothing.
    """

    interface = 1
    name = "repeater"
    kind = "load"
    summary = "a repeater or relay by its traffic: its tail after each over, a signal stuck on it"
    leaves_out = (
        "a tail that the next over cuts short: each is counted in full, which is a little unkind; "
        "overs that follow each other in bursts (the traffic of an hour is spread over it); a "
        "time-out within ordinary traffic; its own calls by voice or Morse; two stuck signals "
        "without a break (the time-out starts anew with each window of `stuck`); it sends with all "
        "its power whenever it sends, as FM does"
    )
    parameters = (
        Parameter(
            "waiting",
            "current",
            "what receiver and transmitter draw while nobody talks, without the controller",
            required=True,
            low=0.0,
            bound_reason="a repeater takes current, it does not give any",
            example="0.5 A",
            shown_unit="A",
        ),
        Parameter(
            "transmit",
            "current",
            "what receiver and transmitter draw while it sends, without the controller",
            required=True,
            low=0.0,
            bound_reason="a repeater takes current, it does not give any",
            example="6.5 A",
            shown_unit="A",
        ),
        Parameter(
            "controller",
            "current",
            "what its controller draws, day and night; 0 A if the other two currents contain it",
            default=0.1,
            low=0.0,
            bound_reason="a controller takes current, it does not give any",
            basis="50 to 150 mA is common practice, no source",
            example="100 mA",
            shown_unit="mA",
        ),
        ShareByHour(
            "transmitting",
            "the share of its hours in which somebody talks through it; the tails come on top",
            required=True,
            example="10 %",
        ),
        Parameter(
            "tail",
            "time",
            "how long it goes on sending after each over",
            default=3.0,
            low=0.0,
            high=120.0,
            bound_reason="tails last between nothing and two minutes",
            basis="1 to 5 s, from memory",
            example="3 s",
            shown_unit="s",
        ),
        Parameter(
            "over",
            "time",
            "how long somebody talks at a time, on the mean: short overs have more tails",
            default=15.0,
            low=1.0,
            high=3600.0,
            bound_reason="overs last between a second and an hour",
            basis="10 to 30 s, from memory",
            example="15 s",
            shown_unit="s",
        ),
        ShareByHour(
            "stuck",
            "when a signal that does not end holds it open (somebody sits on the microphone, or a "
            "carrier interferes): `100 % from 14:00 to 15:00, otherwise 0 %`",
            default=0.0,
            basis="nothing goes wrong unless the file asks for it",
            example="100 %",
        ),
        Parameter(
            "time_out",
            "time",
            "how long a stuck signal is sent before the time-out cuts it off; no time-out if not "
            "given",
            low=1.0,
            high=86_400.0,
            bound_reason="time-outs lie between a second and a day",
            basis="no time-out: a stuck signal is sent to its end, the unkind guess",
            example="3 min",
            shown_unit="min",
        ),
        Hours("on", "when it works; outside these hours its controller alone draws", inverse="off"),
        RADIO_WORKS,
    )
    terminals = (Terminal("line", "its supply", main=True),)
    derived = ("mode_mean", "mode_mean_square")
    drives = ("wanted", "share")
    keying = Keying()
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Fully keyed whenever it sends."""
        waiting, transmit = float(p["waiting"]), float(p["transmit"])
        if transmit < waiting:
            raise ParameterProblem(
                "transmit",
                f"transmit current {transmit:.4g} A is below the {waiting:.4g} A it draws waiting",
                "are the two the wrong way round?",
            )
        return {"mode_mean": 1.0, "mode_mean_square": 1.0}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`wanted`: share of each step for which it is on; `share`: for which it sends."""
        wanted = site.schedule(p["on"])
        talks = site.schedule(p["transmitting"])
        sent = np.minimum(talks * (1.0 + float(p["tail"]) / float(p["over"])), 1.0)
        stuck, out = site.schedule(p["stuck"]), given(p, "time_out")
        held = stuck if out is None else site.schedule(_until_time_out(p["stuck"], out))
        # A stuck signal leaves no room for others, before the time-out and after it.
        return {"wanted": wanted, "share": wanted * (sent * (1.0 - stuck) + held)}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the line terminal [A]."""
        amps = p.controller + d.wanted * p.waiting + d.level * (p.transmit - p.waiting)
        return (constant_current(v.line, amps, p.works_low),)


def _until_time_out(stuck: Schedule, out_s: float) -> Schedule:
    """Each window cut after the time-out. Outside the windows nothing is sent: what is stuck all
    day has timed out long ago."""
    windows: list[Span24] = []
    for window in stuck.windows:
        lasts = (window.end_s - window.start_s) % DAY_S or DAY_S
        if lasts > out_s:
            windows.append(replace(window, end_s=(window.start_s + out_s) % DAY_S))
            window = replace(window, value=0.0)
        windows.append(window)
    return Schedule(tuple(windows), 0.0)
