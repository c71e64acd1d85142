"""Delays of latches that are shorter than a step, and so count as one."""

from __future__ import annotations

from copperpath.plugin_api import Latch
from copperpath.quantities.show import three_digits
from copperpath.solver.problem import Problem, delay_s
from copperpath.station import Assumption


def short_delays(problem: Problem) -> tuple[Assumption, ...]:
    """What is assumed of every delay below a step, by device and parameter."""
    step_s = problem.site.step_s
    found: dict[tuple[str, str], Assumption] = {}
    for data in problem.main:
        name = data.slot.device.name
        for state in data.states:
            if not isinstance(state, Latch):
                continue
            for parameter in (state.set_after, state.clear_after):
                seconds = delay_s(data, parameter)
                if 0.0 < seconds < step_s:
                    found[name, parameter] = Assumption(
                        name,
                        parameter,
                        f"{step_s:g} s",
                        f"{three_digits(seconds)} s is below the step, and what happens within a "
                        "step is not seen; a shorter `--step` follows it",
                    )
    return tuple(found.values())
