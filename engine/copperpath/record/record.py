"""All that a run computed. Arrays are read-only; units return on the way out.

Frozen data and nothing else; `copperpath.record.summary` makes it, reports read it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any

from copperpath.finding import Finding
from copperpath.plugin_api import FloatArray
from copperpath.station import Assumption, Station
from copperpath_grammar.source import Span

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
    span: Span
    met: bool | None
    value: float | None
    limit: float | None
    unit: str
    """SI unit of `value` and `limit`; "" for a share."""
    at: datetime | None
    words: str
    """The result in words: "lowest 12.61 V on 30 March 10:00, margin 2.11 V"."""
    margin: float | None = None
    """What there is to spare, negative where it misses, in `unit`; None where that says nothing."""


@dataclass(frozen=True, slots=True)
class Required:
    """One requirement over all the cases that it speaks of.

    `worst` is its result in the case in which it comes off worst, `case`; `judged` are all cases
    in which it was held against a run and `missed` those in which it is not met or not known.
    `at_low` is its result with every uncertain value at its unfavourable end, None without any.
    """

    worst: RequirementResult
    case: str
    judged: tuple[str, ...]
    missed: tuple[str, ...]
    at_low: RequirementResult | None = None

    @property
    def met(self) -> bool | None:
        """That of the worst case."""
        return self.worst.met

    @property
    def only_expected(self) -> bool:
        """True if it is met as expected, but not at the unfavourable ends."""
        return self.met is True and self.at_low is not None and self.at_low.met is not True


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
class BandEnd:
    """The station with every uncertain value at one end, all together: its verdict (without a
    cause, which is looked for at the middle alone) and the requirements on the base case."""

    verdict: Verdict
    requirements: tuple[RequirementResult, ...]


@dataclass(frozen=True, slots=True)
class Effect:
    """What one uncertain value does alone, the others at their middle.

    `worst` is its unfavourable end: low, high, or middle where both ends are better, and "" where
    it moves nothing. `moved_s`, `moved_charge` and `moved_v` are the differences between its best
    and its worst: of the time of the first shortfall [s], of the lowest charge (a share), of the
    lowest volts [V].
    """

    devices: tuple[str, ...]
    text: str
    span: Span
    worst: str
    at_low: str
    at_high: str
    moved_s: float
    moved_charge: float
    moved_v: float


@dataclass(frozen=True, slots=True)
class Band:
    """How the verdict moves with the uncertain values; `effects` with the strongest first.

    `low` and `high` have all unfavourable and all favourable ends together. Which end is which was
    found one at a time; that they add up is assumed. None where the ends together do not fit each
    other: `refused` then says why.
    """

    low: BandEnd | None
    high: BandEnd | None
    effects: tuple[Effect, ...]
    runs: int
    refused: str = ""


@dataclass(frozen=True, slots=True)
class Case:
    """One variant of the station, run; the base case is called "base".

    `changes` says in the words of the file what is different from the base. `time_s` (time,) holds
    the start of each step, seconds since 1970 UTC. `requirements` are those that speak of it.
    """

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
    station: Station
    time_s: FloatArray
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]
    provenance: Mapping[str, str]
    """How the numbers were obtained: executor, sky source, tolerance, versions."""
    changes: tuple[str, ...] = ()
    account: Mapping[str, Trace] = field(default_factory=dict)
    """The terms of the first law over time; see `side_traces.py`."""
    marks: Mapping[str, Trace] = field(default_factory=dict)
    """Reserves, what blocks a store, when a load is wanted; see `side_traces.py`."""


@dataclass(frozen=True, slots=True)
class Record:
    """A run of a station: the base case first, then the others as the file has them.

    `requirements` are all of the file, each over its cases. `band` says what the uncertain values
    do to the base case; None without any.
    """

    station: Station
    step_s: float
    cases: tuple[Case, ...]
    requirements: tuple[Required, ...] = ()
    band: Band | None = None

    @property
    def base(self) -> Case:
        """The case as the file states it."""
        return self.cases[0]

    @property
    def verdict(self) -> Verdict:
        """Of the base case."""
        return self.base.verdict

    @property
    def time_s(self) -> FloatArray:
        """Start of each step of the base case, seconds since 1970 UTC, shape (time,)."""
        return self.base.time_s

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Of the base case."""
        return self.base.findings

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """Of the base case."""
        return self.base.assumptions

    @property
    def provenance(self) -> Mapping[str, str]:
        """Of the base case."""
        return self.base.provenance

    def case(self, title: str) -> Case:
        """The case of that title, `record.case("overcast")`.

        Raises
        ------
        KeyError
            If there is none; the message lists those there are.
        """
        from copperpath.record.frames import find_case

        return find_case(self, title)

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
