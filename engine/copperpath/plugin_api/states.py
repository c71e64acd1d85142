"""What a device remembers from step to step: a small vocabulary that the engine advances.

A law sees states as they stand at the START of a step; a latch acts one step after its cause.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias


@dataclass(frozen=True, slots=True)
class Accumulator:
    """One signal, a rate per second: x = min(max(x + dt * rate, low), high).

    `initial` names a parameter (declared or derived) that holds the value at the start.
    `carries_charge` True marks the store's charge as a share of capacity.
    """

    name: str
    initial: str
    low: float = 0.0
    high: float = 1.0
    carries_charge: bool = False


@dataclass(frozen=True, slots=True)
class Latch:
    """Two signals, set and clear: 1 if `set` has held for its delay in whole steps, one at the
    least, else 0 if `clear` has, else unchanged. `set_after` and `clear_after` name parameters
    that hold the delays in seconds ("" for none). `initial` is 0 or 1, or names a parameter
    that is.
    `judged` says which column moves it: "mean" or "worst" (everyone keyed).
    `giving` True: while set the device gives (awake, running), so it is set in the high corner.
    `dry` True: while set its tank is empty, which is told as a finding.
    """

    name: str
    set_after: str = ""
    clear_after: str = ""
    initial: float | str = 0.0
    judged: Literal["mean", "worst"] = "mean"
    giving: bool = False
    dry: bool = False


@dataclass(frozen=True, slots=True)
class Lag:
    """One signal, a target: x = a * x + (1 - a) * target, a = exp(-dt / tau).

    `tau` names a parameter in seconds (0 follows at once). It starts at the first value of the
    drive named `initial`, or at the parameter (declared or derived) of that name.
    """

    name: str
    tau: str
    initial: str


State: TypeAlias = Accumulator | Latch | Lag
