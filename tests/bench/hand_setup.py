"""The numbers of `ridge_post.station` as the hand-written loop wants them, and its run.

Drives and offer tables come from what the engine has prepared; resistances, parameters and the
map of nodes are put together here from the station.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from bench import hand_laws as at
from bench import hand_loop

from copperpath.network.circuit import LEAST_OHM
from copperpath.solver.compiled import Prepared
from copperpath.solver.constants import OFFER_POINTS, ONE_VOLT_STEPS_TO_V
from copperpath.solver.problem import Problem
from copperpath.station import Station
from copperpath_plugins.converters.panel_controller import LEAST_IDLE_A

STATION = Path(__file__).with_name("ridge_post.station")

LOADS = (
    *("a1", "a2", "a3", "a4"),
    *("b1", "b2", "b3", "b4", "b5", "b6", "b7", "b8", "b11", "b12", "b13", "b14"),
    *("b9", "b10"),
    *("c1", "c2", "c3", "c4", "c5"),
    *("d1", "d2", "d3", "d4", "d5"),
    *("e1", "e2", "e3", "e4"),
    *("f1", "f2", "f3", "f4"),
)
DOWNS = ("s1", "s2", "s3", "s4")
CONTROLLERS = ("tracer", "setter")
NODES = (
    *(f"{name}.line" for name in LOADS),
    *(f"{name}.in" for name in DOWNS),
    *(f"{name}.out" for name in DOWNS),
    *(f"{name}.battery" for name in CONTROLLERS),
    *("pack.line", "guard.line", "guard.load", "hub.in", "far.in", "far.9"),
)
STATES = (
    *((name, "awake") for name in CONTROLLERS),
    *(("pack", name) for name in ("charge", "cell", "cold", "empty", "locked")),
    *(("guard", name) for name in ("open", "open_keyed")),
)

STAGES = ("absorbed", "floating")
"""States of the controllers that stay at nothing, as both hold one voltage."""


@dataclass(frozen=True, slots=True)
class HandRun:
    """What the hand-written loop found: volts (time, node of NODES), states (time + 1, state of
    STATES), outcome and turns (time,)."""

    volts: Any
    states: Any
    outcome: Any
    turns: Any


def path_ohm(station: Station) -> dict[str, float]:
    """Resistance of each cable with the strip contacts at its ends [ohm], by its end; a way that
    carries two cables is a node, and its contact stands alone, as `far.9`."""
    contact = {"hub": 0.0, "far": 0.0}
    for device in station.devices:
        if device.name in contact:
            contact[device.name] = max(float(device.values["contact"]), LEAST_OHM)
    found = {}
    for cable in station.cables:
        ohm = max(cable.resistance_ohm, LEAST_OHM)
        for end in (str(cable.start), str(cable.end)):
            strip, _, way = end.partition(".")
            if strip in contact and way != "in" and end != "far.9":
                ohm += contact[strip]
        found[str(cable.start)] = found[str(cable.end)] = ohm
    return found | {"far.9": contact["far"]}


def constants(station: Station) -> Any:
    """The array `q` of `hand_loop`."""
    ohm = path_ohm(station)
    values = {device.name: device.values for device in station.devices}
    q = np.zeros(at.CONSTANTS)
    ends = {at.G_PACK: "pack.line", at.G_LINE: "guard.line", at.G_LOAD: "guard.load"}
    ends |= {at.G_FORK: "far.9"}
    ends |= {at.G_IN + k: f"{name}.in" for k, name in enumerate(DOWNS)}
    ends |= {at.G_CONTROL + k: f"{name}.battery" for k, name in enumerate(CONTROLLERS)}
    for place, end in ends.items():
        q[place] = 1.0 / ohm[end]
    groups = {
        at.P_PACK: (
            "pack",
            "cells capacity charge_above ohm_warm most_charging taper_span "
            "cutoff_voltage fixed_available wake_voltage thermal_lag",
        ),
        at.P_GUARD: ("guard", "off on draw amps_open fades_below keyed_opens contact"),
    }
    for k, name in enumerate(CONTROLLERS):
        words = "output_limit efficiency idle absorb droop headroom start_headroom start_voltage"
        groups[at.P_CONTROL + 8 * k] = (name, words)
    for k, name in enumerate(DOWNS):
        words = "output output_limit input_low efficiency idle output_resistance"
        groups[at.P_DOWN + 6 * k] = (name, words)
    for first, (device, words) in groups.items():
        for place, word in enumerate(words.split()):
            q[first + place] = float(values[device][word])
    for k, name in enumerate(CONTROLLERS):
        assert values[name]["stages"] == 0.0
        q[at.P_CONTROL + 8 * k + 2] = max(q[at.P_CONTROL + 8 * k + 2], LEAST_IDLE_A)
    return q


def filled(station: Station, q: Any) -> Any:
    """The array `w` of `hand_loop`, with the loads' numbers and the part of the diagonal that
    never changes."""
    ohm = path_ohm(station)
    values = {device.name: device.values for device in station.devices}
    w = hand_loop.workspace()
    for k, name in enumerate(LOADS):
        load = values[name]
        w[at.SIEMENS + k] = 1.0 / ohm[f"{name}.line"]
        w[at.LOWEST + k] = float(load["works_low"])
        w[at.PER_LOWEST + k] = 1.0 / float(load["works_low"])
        w[at.WATTS + k] = float(load["watts"])
        w[at.AMPS + k] = float(load.get("amps", 0.0))
        w[at.OHMIC + k] = float(load.get("siemens", 0.0))
    still = w[at.STILL : at.STILL + at.NODES]
    still[:] = at.LEAK
    for first, end, node in at.SPANS:
        still[node] += np.sum(w[at.SIEMENS + first : at.SIEMENS + end])
    pairs = [(at.CONTROL, at.HUB), (at.CONTROL + 1, at.HUB), (at.PACK, at.HUB), (at.LINE, at.HUB)]
    pairs += [(at.LOAD, at.FAR), (at.FORK, at.FAR)]
    pairs += [(at.IN + k, at.HUB if k < 2 else at.FAR) for k in range(4)]
    for place, (one, other) in enumerate(pairs):
        still[one] += q[place]
        still[other] += q[place]
    return w


def places(problem: Problem) -> list[int]:
    """Where the nodes of NODES stand among those that the engine solves."""
    main = problem.network.main
    solved = [main.nodes[node] for node in main.merged.nodes]
    assert sorted(solved) == sorted(NODES)
    return [solved.index(name) for name in NODES]


def state_names(problem: Problem) -> list[tuple[str, str]]:
    """Device and name of each of the engine's states, in its order."""
    return [(data.slot.device.name, state.name) for data in problem.main for state in data.states]


def state_places(problem: Problem) -> list[int]:
    """Where the states of STATES stand among the engine's."""
    names = state_names(problem)
    return [names.index(state) for state in STATES]


class Hand:
    """The hand-written loop over what the engine has prepared, ready to run again and again."""

    def __init__(self, prepared: Prepared) -> None:
        problem = prepared.problem
        slots = {data.slot.device.name: data for data in problem.main}
        assert at.POINTS == OFFER_POINTS
        assert [slots[name].slot.seeks for name in CONTROLLERS] == [0, 1]
        self.q = constants(problem.station)
        self.w = filled(problem.station, self.q)
        self.dt = problem.dt_s
        self.start_v = np.array(problem.network.main.start_v)[places(problem)]
        assert self.start_v.max() <= ONE_VOLT_STEPS_TO_V
        self.wanted = np.ascontiguousarray(np.array([slots[n].drives[0] for n in LOADS]).T)
        self.around = slots["pack"].drives[0].copy()
        self.points = prepared.supplies.points
        rows = dict(zip(state_names(problem), prepared.states, strict=True))
        assert set(STATES) | {(n, s) for n in CONTROLLERS for s in STAGES} == set(rows)
        self.wait = np.array([(rows[s]["set_s"], rows[s]["clear_s"]) for s in STATES])
        initial = np.concatenate([data.initial for data in problem.main])
        self.initial = initial[state_places(problem)]

    def run(self) -> HandRun:
        """Step through all of it."""
        steps = len(self.around)
        found = HandRun(
            np.zeros((steps, at.NODES)),
            np.zeros((steps + 1, at.STATES)),
            np.zeros(steps, dtype=np.int8),
            np.zeros(steps, dtype=np.int32),
        )
        hand_loop.run(
            self.w,
            self.q,
            self.wait,
            self.wanted,
            self.around,
            self.points,
            self.dt,
            self.start_v,
            self.initial.copy(),
            found.volts,
            found.states,
            found.outcome,
            found.turns,
        )
        return found
