"""Many cases at once: the same network with other values, or other networks.

The compiled loop lets go of the interpreter, so cases run side by side on threads; what each comes
to is worked out where it was solved, and its arrays are dropped. Laws, kernels and the loop are
compiled once for all of them; the offers of panels that several cases share are made once.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from copperpath.solver.compiled import solve_compiled
from copperpath.solver.problem import Problem
from copperpath.solver.solution import Solution

T = TypeVar("T")
K = TypeVar("K")


def solve_each(
    problems: Sequence[Problem], take: Callable[[Problem, Solution], T], threads: int = 0
) -> list[T]:
    """Solve every problem and keep what `take` makes of it, in order.

    Parameters
    ----------
    problems : sequence of Problem
        One a case.
    take : callable
        Gets the problem and its solution, on the thread that solved it.
    threads : int
        0 for one a processor.
    """

    def one(problem: Problem) -> T:
        return take(problem, solve_compiled(problem, threads=1))

    with ThreadPoolExecutor(threads or os.cpu_count() or 1) as pool:
        return list(pool.map(one, problems))


def take_each(keys: Sequence[K], take: Callable[[K], T], threads: int = 0) -> list[T]:
    """What `take` makes of every key, in order, on as many threads: for problems that are made
    where they are solved, as all of them together would fill the memory."""
    with ThreadPoolExecutor(threads or os.cpu_count() or 1) as pool:
        return list(pool.map(take, keys))


def solve_batch(problems: Sequence[Problem], threads: int = 0) -> list[Solution]:
    """Solve every problem and keep all of it."""
    return solve_each(problems, lambda _, solution: solution, threads)
