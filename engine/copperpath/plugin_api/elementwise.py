"""The helpers a law may use beside `+ - * / **`, comparisons joined with `& |`, and
`np.minimum maximum abs exp log sqrt`. Each works on floats and on arrays that broadcast.

The compiled loop has twins of these in `copperpath.solver.compiled_elementwise`; the
conformance tests hold the two against each other.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import numpy as np

Function = TypeVar("Function", bound=Callable[..., Any])
Elementwise = Any
"""A float in the compiled loop, an ndarray that broadcasts in the numpy twin."""


def elementwise(function: Function) -> Function:
    """Mark a module-level helper that laws call; its text is compiled with the law's."""
    function.__dict__["__copperpath_elementwise__"] = True
    return function


def where(condition: Elementwise, yes: Elementwise, no: Elementwise) -> Elementwise:
    """`yes` where the condition holds, else `no`."""
    return np.where(condition, yes, no)


def between(x: Elementwise, low: Elementwise, high: Elementwise) -> Elementwise:
    """x, but not below `low` nor above `high`."""
    return np.minimum(np.maximum(x, low), high)


def table(x: Elementwise, xs: tuple[float, ...], ys: tuple[float, ...]) -> Elementwise:
    """Straight lines through the points (xs, ys), xs rising; level beyond both ends."""
    return np.interp(x, xs, ys)


def constant_power(v: Elementwise, watts: Elementwise, lowest: Elementwise) -> Elementwise:
    """Current [A] of a load that holds its power: watts/v above `lowest` [V], below it the
    resistor that meets that curve there, v·watts/lowest²."""
    safe = np.maximum(v, lowest)
    return watts * np.minimum(v, lowest) / (lowest * safe)


def constant_current(v: Elementwise, amps: Elementwise, lowest: Elementwise) -> Elementwise:
    """Current [A] of a load that holds its current above `lowest` [V], falls in a straight line
    to nothing at half of it, and draws nothing below."""
    return amps * np.minimum(np.maximum(2.0 * v / lowest - 1.0, 0.0), 1.0)
