"""What a station file means: devices with SI values, cables with resistances, site, requirements.

Frozen data only. The builder makes it, every later step reads it. Not here: how it is solved.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, TypeAlias

from copperpath.plugin_api import FloatArray, Model
from copperpath_grammar.source import Source, Span


@dataclass(frozen=True, slots=True)
class TerminalRef:
    """A terminal of a device, `strip.1`."""

    device: str
    terminal: str

    def __str__(self) -> str:
        return f"{self.device}.{self.terminal}"


LAST_PRIORITY = 1_000_000_000
"""Counts as the priority of a load that has none."""


@dataclass(frozen=True, slots=True)
class Device:
    """One device with every parameter settled.

    `values` holds declared parameters (defaults filled in, windows split in `_low` and `_high`)
    and the derived ones, in SI; absent optional ones are NaN. `given` names what the file said.
    """

    name: str
    kind: str
    model: type[Model]
    values: Mapping[str, Any]
    given: frozenset[str]
    mass_kg: float | None
    priority: int | None
    span: Span

    @property
    def rank(self) -> int:
        """How early it is given up among loads: the highest first. Priority 1 goes last, and loads
        without a priority go before those with one."""
        return LAST_PRIORITY if self.priority is None else self.priority


@dataclass(frozen=True, slots=True)
class Fuse:
    """A fuse in one end of a cable; `end` is "start" or "end"."""

    rating_a: float
    end: str
    within_m: float | None
    ohm: float


@dataclass(frozen=True, slots=True)
class Cable:
    """A two-wire run. `resistance_ohm` counts both conductors, fuse and joints."""

    name: str
    start: TerminalRef
    end: TerminalRef
    length_m: float
    wire: str
    area_m2: float
    wire_ohm: float
    joints_ohm: float
    fuse: Fuse | None
    mass_kg: float
    span: Span

    @property
    def resistance_ohm(self) -> float:
        """Out and back, with fuse and joints [ohm]."""
        return self.wire_ohm + self.joints_ohm + (self.fuse.ohm if self.fuse else 0.0)


# ---- site -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ClearSky:
    """A share of the clear sky's light: `otherwise` on most days, `by_date` on some."""

    otherwise: float
    by_date: Mapping[date, float]


@dataclass(frozen=True, slots=True)
class MeasuredSky:
    """Irradiance from a file.

    Attributes
    ----------
    path : str
        The file as the station names it.
    kind : str
        "plane" (in the panels' plane) or "horizontal" (global, with beam and diffuse if given).
    time_s : ndarray (row,)
        Seconds since 1970-01-01 UTC at which each row was read; rising. Straight lines between.
    columns : mapping of str to ndarray (row,) [W/m²]
        "plane", or "global" and, if measured, "beam" (normal) and "diffuse".
    """

    path: str
    kind: str
    time_s: FloatArray
    columns: Mapping[str, FloatArray]


Sky: TypeAlias = ClearSky | MeasuredSky


@dataclass(frozen=True, slots=True)
class SiteSettings:
    """Where, when, for how long; sky, air and ground."""

    latitude_deg: float
    longitude_deg: float
    altitude_m: float
    starts: datetime
    lasts_s: float
    sky: Sky
    air_low_k: float
    air_high_k: float
    ground_reflects: float
    repeats: bool


# ---- requirements ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PoweredRequirement:
    """A load is powered throughout (`duration_s` None) or for so long from the start."""

    load: str
    duration_s: float | None
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class VerdictRequirement:
    """The verdict must be this word ("holds")."""

    word: str
    text: str
    span: Span


@dataclass(frozen=True, slots=True)
class ComparisonRequirement:
    """A recorded quantity against a limit, at every step.

    `device` is None for station-wide quantities (`mass`); `quantity` is voltage, mean_voltage,
    current, power, charge, energy or mass; `operator` one of < <= > >=; `limit` in SI;
    `unit` is the unit people wrote, for showing it again.
    """

    device: str | None
    quantity: str
    operator: str
    limit: float
    unit: str
    text: str
    span: Span


Requirement: TypeAlias = PoweredRequirement | VerdictRequirement | ComparisonRequirement


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value that the file did not give: whose, which, what was taken, and why that."""

    subject: str
    parameter: str
    value: str
    basis: str


@dataclass(frozen=True, slots=True)
class Station:
    """Everything one file describes."""

    title: str
    site: SiteSettings
    devices: tuple[Device, ...]
    cables: tuple[Cable, ...]
    requirements: tuple[Requirement, ...]
    assumptions: tuple[Assumption, ...]
    source: Source
    never_together: tuple[tuple[str, ...], ...] = ()
    """Groups of radios of which one at most is keyed at a time."""

    def device(self, name: str) -> Device:
        """The device of that name.

        Raises
        ------
        KeyError
            If there is none.
        """
        for device in self.devices:
            if device.name == name:
                return device
        raise KeyError(name)
