"""Choosing how a problem is solved: the compiled loop, or numpy alone where it is not to be had."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeAlias, TypeVar

from copperpath.solver.problem import Problem
from copperpath.solver.solution import Carry, Solution

Stepper = Callable[[Carry], Solution]
T = TypeVar("T")
K = TypeVar("K")
Taker: TypeAlias = Callable[[Problem, Solution], T]


class EachSolver(Protocol):
    """Solves many problems and keeps what is made of each."""

    def __call__(self, problems: Sequence[Problem], take: Taker[T], /) -> list[T]: ...


class EachKey(Protocol):
    """Takes many keys, each to be made into a problem and solved where it is taken."""

    def __call__(self, keys: Sequence[K], take: Callable[[K], T], /) -> list[T]: ...


@dataclass(frozen=True, slots=True)
class Executor:
    """`solve` runs a problem from its start; `stepper` prepares it once and runs it from any
    carried state, without working out the panels' side; `each` runs many and keeps what is made
    of each; `over` does so for many that are laid out one by one."""

    name: str
    solve: Callable[[Problem], Solution]
    stepper: Callable[[Problem], Stepper]
    each: EachSolver
    over: EachKey


def choose_executor(name: str = "") -> Executor:
    """The executor of that name ("compiled" or "twin"), or the best that can be had."""
    if name != "twin":
        try:
            from copperpath.solver.batch import solve_each, take_each
            from copperpath.solver.compiled import compiled_stepper, solve_compiled
        except ImportError:
            if name == "compiled":
                raise
        else:
            return Executor(
                "compiled loop", solve_compiled, compiled_stepper, solve_each, take_each
            )
    from copperpath.solver.twin import solve_twin

    return Executor(
        "numpy twin",
        solve_twin,
        lambda problem: lambda carry: solve_twin(problem, carry),
        lambda problems, take: [take(problem, solve_twin(problem)) for problem in problems],
        lambda keys, take: [take(key) for key in keys],
    )
