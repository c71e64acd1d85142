"""Choosing how a problem is solved: the compiled loop, or numpy alone where it is not to be had."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from copperpath.solver.problem import Problem
from copperpath.solver.solution import Carry, Solution

Stepper = Callable[[Carry], Solution]


@dataclass(frozen=True, slots=True)
class Executor:
    """`solve` runs a problem from its start; `stepper` prepares it once and runs it from any
    carried state, without working out the panels' side."""

    name: str
    solve: Callable[[Problem], Solution]
    stepper: Callable[[Problem], Stepper]


def choose_executor(name: str = "") -> Executor:
    """The executor of that name ("compiled" or "twin"), or the best that can be had."""
    if name != "twin":
        try:
            from copperpath.solver.compiled import compiled_stepper, solve_compiled
        except ImportError:
            if name == "compiled":
                raise
        else:
            return Executor("compiled loop", solve_compiled, compiled_stepper)
    from copperpath.solver.twin import solve_twin

    return Executor(
        "numpy twin",
        solve_twin,
        lambda problem: lambda carry: solve_twin(problem, carry),
    )
