"""All that a run computed. Arrays are read-only; units return on the way out.

Frozen data and nothing else; `copperpath.record.summary` makes it, reports read it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from copperpath.finding import Finding
from copperpath.plugin_api import FloatArray
from copperpath.station import Assumption, Station

if TYPE_CHECKING:
    import pandas


@dataclass(frozen=True, slots=True)
class Trace:
    """One quantity over time.

    Attributes
    ----------
    name : str
        `rig.voltage` and the like; the full list is in the docs page on results.
    unit : str
        V, A, W or "" for a share.
    values : ndarray (time,)
        Read-only. One value a step.
    meaning : str
        In words: mean over the key states, worst instant, at the start of the step ...
    """

    name: str
    unit: str
    values: FloatArray
    meaning: str


@dataclass(frozen=True, slots=True)
class Ledger:
    """Energies of a whole run [J]; sources = loads + cables + converters + storage_loss +
    stored_change + leak + residual. Every term but the residual comes from its own law."""

    sources: float
    loads: float
    cables: float
    """Cables with their fuses and joints, and blocks."""
    converters: float
    storage_loss: float
    stored_change: float
    """Integral of open-circuit voltage times current."""
    leak: float
    """What the solver's own tiny leak took (1e-9 S a node)."""
    residual: float
    throughput: float
    """What every source and every store gave, each by itself."""
    worst_step_share: float
    """Largest imbalance of any step and column over the largest power in it."""


@dataclass(frozen=True, slots=True)
class DeviceFigures:
    """One device over a run. `energy_j` is what a source delivered, a load took, a converter
    passed on, a store took less what it gave."""

    name: str
    model: str
    kind: str
    energy_j: float
    voltage_min_v: float
    voltage_mean_v: float
    voltage_max_v: float
    worst_voltage_v: float
    """Lowest worst-instant voltage while wanted."""
    worst_voltage_at: datetime | None
    current_mean_a: float
    current_rms_a: float
    current_max_a: float
    powered_s: float | None
    """Loads: how long it was wanted and powered."""
    wanted_s: float | None
    charge_min: float | None
    charge_max: float | None
    charge_end: float | None


@dataclass(frozen=True, slots=True)
class CableFigures:
    """One cable over a run."""

    name: str
    start: str
    end: str
    wire: str
    """"" if it is not given."""
    length_m: float | None
    fuse_a: float | None
    """The smallest of its fuses."""
    resistance_ohm: float
    loss_j: float
    peak_a: float
    rms_a: float
    worst_drop_v: float
    worst_drop_share: float
    """Of the voltage at the feeding end at that instant."""


@dataclass(frozen=True, slots=True)
class RequirementResult:
    """What became of one requirement. `met` None means unknown, which counts as not met."""

    text: str
    line: int
    met: bool | None
    value: float | None
    limit: float | None
    unit: str
    """SI unit of `value` and `limit`; "" for a share."""
    at: datetime | None
    words: str
    """The result in words: "lowest 12.61 V on 30 March 10:00, margin 2.11 V"."""


@dataclass(frozen=True, slots=True)
class WhatIf:
    """One counterfactual: the change in words, what it yields in words, and whether it alone
    turns the verdict."""

    change: str
    outcome: str
    turns: bool
    gained_s: float | None


@dataclass(frozen=True, slots=True)
class Verdict:
    """`word` is holds, lasts, runs down or unknown.

    `until` is the first time a load is short or the reserve is reached (for lasts: when it
    would be, if known). `reserve_at` and `cutoff_at` are both given where they were reached.
    """

    word: str
    until: datetime | None
    first_load: str | None
    cause: str | None
    sentence: str
    reserve_at: datetime | None
    cutoff_at: datetime | None
    drift_per_day: float | None
    """Change of the store's charge (share of capacity) from one cycle to the next, a day."""
    what_ifs: tuple[WhatIf, ...]


@dataclass(frozen=True, slots=True)
class CornerFigure:
    """Voltage at a load in a corner [V], and the least it needs and the most it takes [V] (None
    if nothing is declared). Low: every radio keyed, lowest planned charge, coldest cell, no sun.
    High: none keyed, nothing wanted, stores full, every source at its best."""

    device: str
    voltage_v: float
    needs_v: float | None
    takes_v: float | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """One variant of the station, run; the base case is called "base"."""

    name: str
    verdict: Verdict
    ledger: Ledger
    devices: tuple[DeviceFigures, ...]
    cables: tuple[CableFigures, ...]
    requirements: tuple[RequirementResult, ...]
    low_corner: tuple[CornerFigure, ...]
    high_corner: tuple[CornerFigure, ...]
    traces: Mapping[str, Trace]
    outcomes: Mapping[str, int]
    """How many steps and columns ended in which way (solved, restarted, not solved ...)."""


@dataclass(frozen=True, slots=True)
class Record:
    """A run of a station.

    `time` holds the start of each step as aware datetimes are made from `time_s` (seconds
    since 1970 UTC, shape (time,)).
    """

    station: Station
    step_s: float
    time_s: FloatArray
    cases: tuple[Case, ...]
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]
    provenance: Mapping[str, str]
    """How the numbers were obtained: executor, sky source, tolerance, versions."""

    @property
    def base(self) -> Case:
        """The case as the file states it."""
        return self.cases[0]

    @property
    def verdict(self) -> Verdict:
        """Of the base case."""
        return self.base.verdict

    def frame(self, case: str = "base") -> pandas.DataFrame:
        """Traces as a pandas frame, a column a trace with its unit in the heading, indexed by
        the start of each step in the station's own zone."""
        from copperpath.record.frames import traces_frame

        return traces_frame(self, case)

    def quantity(self, name: str, case: str = "base") -> Any:
        """A trace as a pint quantity, `record.quantity("rig.voltage")`."""
        from copperpath.record.frames import trace_quantity

        return trace_quantity(self, name, case)

    def _repr_html_(self) -> str:
        from copperpath.record.frames import record_html

        return record_html(self)
