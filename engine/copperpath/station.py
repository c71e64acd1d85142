"""What a station file means: devices with SI values, cables with resistances, site, requirements.

Frozen data only. The builder makes it, every later step reads it. Not here: how it is solved.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, TypeAlias

from copperpath.over_year import USUAL_SPELL_S, ByMonth, Cover, MonthMean, WeatherFile
from copperpath.plugin_api import FloatArray, Model
from copperpath.required import Requirement
from copperpath_grammar.source import Source, Span


@dataclass(frozen=True, slots=True)
class TerminalRef:
    """A terminal of a device, `strip.1`."""

    device: str
    terminal: str

    def __str__(self) -> str:
        return f"{self.device}.{self.terminal}"


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding that the author knows of and lets stand: the rule, at which device or cable ("" at
    all), and why."""

    rule: str
    subject: str
    reason: str
    span: Span


@dataclass(frozen=True, slots=True)
class Confirmed:
    """A question of a checklist, for which device ("" for the station), and its answer."""

    question: str
    subject: str
    answer: str
    span: Span


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
    accepted: tuple[Accepted, ...] = ()
    confirmed: tuple[Confirmed, ...] = ()

    @property
    def rank(self) -> int:
        """How early it is given up among loads: the highest first. Priority 1 goes last, and loads
        without a priority go before those with one."""
        return LAST_PRIORITY if self.priority is None else self.priority


@dataclass(frozen=True, slots=True)
class Fuse:
    """A fuse in one end of a cable, in both poles if its facts say so; `end` is "start" or "end",
    `ohm` counts all poles."""

    rating_a: float
    end: str
    within_m: float | None
    ohm: float


@dataclass(frozen=True, slots=True)
class Joint:
    """Mated pairs of contacts of one kind in a cable; `ohm` is that of all of them."""

    kind: str
    pairs: int
    ohm: float


@dataclass(frozen=True, slots=True)
class CableFacts:
    """What is known of a cable beyond its resistance; None where the file does not say.

    Attributes
    ----------
    fuse_kind : str or None
        The trade's word for the kind of its fuses: "blade", "class_t" ...
    fuse_interrupts_a, fuse_voltage_v : float or None
        The most current and the highest voltage that they can break [A, V].
    fuse_poles : str or None
        "positive" or "both".
    insulation_k : float or None
        Temperature of the copper that the insulation stands [K].
    bundled : int or None
        How many cables lie together, this one counted.
    sheathed : bool
        It lies in a conduit or a sheath.
    copper_clad : bool
        Copper-clad aluminium.
    """

    fuse_kind: str | None = None
    fuse_interrupts_a: float | None = None
    fuse_voltage_v: float | None = None
    fuse_poles: str | None = None
    insulation_k: float | None = None
    bundled: int | None = None
    sheathed: bool = False
    copper_clad: bool = False


@dataclass(frozen=True, slots=True)
class Cable:
    """A two-wire run. `resistance_ohm` counts both conductors, fuses and joints.

    `length_m` and `area_m2` are None and `wire` is "" where the file does not give them; `wire_ohm`
    then is next to nothing, and the mass is not known unless it is given.
    """

    name: str
    start: TerminalRef
    end: TerminalRef
    length_m: float | None
    wire: str
    area_m2: float | None
    wire_ohm: float
    joints: tuple[Joint, ...]
    fuses: tuple[Fuse, ...]
    mass_kg: float | None
    span: Span
    facts: CableFacts = CableFacts()
    solid: bool = False
    copper_k: float = 293.15
    """Temperature of its copper, at which `wire_ohm` is [K]."""
    accepted: tuple[Accepted, ...] = ()
    confirmed: tuple[Confirmed, ...] = ()

    @property
    def joints_ohm(self) -> float:
        """All joints together [ohm]."""
        return sum(joint.ohm for joint in self.joints)

    @property
    def resistance_ohm(self) -> float:
        """Out and back, with fuses and joints [ohm]."""
        return self.wire_ohm + self.joints_ohm + sum(fuse.ohm for fuse in self.fuses)

    @property
    def missing(self) -> tuple[str, ...]:
        """Which of `length` and `wire` are not given."""
        known = {"length": self.length_m is not None, "wire": self.wire != ""}
        return tuple(name for name, given in known.items() if not given)

    def fuse_at(self, end: str) -> Fuse | None:
        """The fuse at its "start" or its "end"."""
        return next((fuse for fuse in self.fuses if fuse.end == end), None)


# ---- site -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ClearSky:
    """A share of the clear sky's light: `by_date` on some days, else `by_month` in some months,
    else `otherwise`. A month has its share, or the mean from which the share is worked out."""

    otherwise: float
    by_date: Mapping[date, float]
    by_month: Mapping[int, float | MonthMean] = field(default_factory=dict)


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


Sky: TypeAlias = ClearSky | MeasuredSky | WeatherFile


@dataclass(frozen=True, slots=True)
class SiteSettings:
    """Where, when, for how long; sky, air and ground.

    Attributes
    ----------
    air_low_k, air_high_k : float
        Coolest and warmest of the day, in months that have no own ones [K].
    air_by_month : mapping of int to (float, float)
        Coolest and warmest of the day by month [K].
    record_low_k : float or None
        The coldest air on record at the place [K].
    air_file : WeatherFile or None
        The file that the air is in, in place of all the above.
    air_spread_k : float
        Standard deviation by which days are warmer or colder than usual [K].
    seed : int
        From which chance begins.
    ground_reflects : float
        Share of the level light that the ground throws back, in months that have no own one.
    horizon : tuple of (float, float)
        Directions, clockwise from true north and rising, and heights [degrees].
    covers : tuple of Cover
        What lies on the panels and takes light.
    cover_spell_s : float
        Mean length of a spell of it, where days are drawn at random [s].
    random_days : bool
        Each day's light and cover are drawn at random; otherwise they are as the mean.
    """

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
    air_by_month: Mapping[int, tuple[float, float]] = field(default_factory=dict)
    record_low_k: float | None = None
    air_file: WeatherFile | None = None
    air_spread_k: float = 0.0
    seed: int = 1
    ground_by_month: ByMonth = field(default_factory=dict)
    horizon: tuple[tuple[float, float], ...] = ()
    covers: tuple[Cover, ...] = ()
    cover_spell_s: float = USUAL_SPELL_S
    random_days: bool = False


# ---- bonds and data leads -------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Bond:
    """A device's return or case joined to another device, or to a place such as `chassis`.

    `place` True says that `end` is such a word and no device.
    """

    start: str
    end: str
    place: bool
    span: Span


@dataclass(frozen=True, slots=True)
class DataLead:
    """A data, audio or antenna lead between two devices: it may carry their return current.

    `kind` is usb, serial, audio, ethernet, coax, or None where the file does not say.
    """

    start: str
    end: str
    kind: str | None
    isolated: bool
    length_m: float | None
    span: Span


# ---- uncertain values -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UncertainValue:
    """A value given as `low .. high`, once in the text: all devices that take it move together.

    `low` and `high` are as a device's `values` hold them, the middle stands there; `text` is the
    entry as written.
    """

    devices: tuple[str, ...]
    parameter: str
    low: Any
    high: Any
    text: str
    span: Span


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
    """Groups of radios of which one at most is keyed at a time; no radio is in two of them."""
    bonds: tuple[Bond, ...] = ()
    data_leads: tuple[DataLead, ...] = ()
    uncertain: tuple[UncertainValue, ...] = ()
    """Values given as a range; the devices have the middle."""
    unconnected: tuple[str, ...] = ()
    """In a case: devices and terminals that are without a cable since others were removed."""
    cases: tuple[StationCase, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    confirmed: tuple[Confirmed, ...] = ()

    @property
    def known_mass_kg(self) -> float:
        """Mass of all that has one [kg]."""
        things: tuple[Device | Cable, ...] = (*self.devices, *self.cables)
        return float(sum(each.mass_kg for each in things if each.mass_kg is not None))

    @property
    def without_mass(self) -> tuple[str, ...]:
        """Names of the devices and cables whose mass is not known."""
        things: tuple[Device | Cable, ...] = (*self.devices, *self.cables)
        return tuple(each.name for each in things if each.mass_kg is None)

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


@dataclass(frozen=True, slots=True)
class StationCase:
    """The same station with something changed.

    `changes` says what is changed, in the words of the file. `station` has no cases of its own,
    and of the requirements those that speak of this case.
    """

    title: str
    station: Station
    changes: tuple[str, ...]
    span: Span
