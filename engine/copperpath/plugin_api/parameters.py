"""Declarations of what a model may be told in a station file.

Everything about a parameter is said once, here: from it come unit checking, messages, the
reference page and the list of assumptions. Defaults and bounds are in SI (share for percent).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Literal, TypeAlias

Dimension: TypeAlias = Literal[
    "voltage",  # V
    "current",  # A
    "power",  # W; an energy per time such as 12 Wh/day is a power
    "resistance",  # ohm
    "charge",  # C; written Ah
    "capacitance",  # F
    "energy",  # J; written Wh
    "temperature",  # K, absolute; written degC or degF
    "temperature_difference",  # K
    "thermal_resistance",  # K/W
    "heat_capacity",  # J/K
    "length",  # m
    "mass",  # kg
    "volume",  # m³; written 3 L or 1 gal
    "flow",  # m³/s; written 0.2 L/h
    "volume_per_energy",  # m³/J; written 0.5 L/kWh
    "speed",  # m/s; written 6 m/s or 20 km/h
    "time",  # s
    "angle",  # degrees (the one exception to SI, as everybody writes it so)
    "share",  # 0 to 1; written 15 % or 0.15
    "share_per_kelvin",  # 1/K; written -0.30 %/K
    "irradiance",  # W/m²; written 2.1 kWh/m2/day
    "number",  # no unit
]
"""What a quantity measures. The comment is the unit inside."""

Values: TypeAlias = Mapping[str, Any]
"""Parameter values by name: float, int, str, bool, `Window`-pairs are split in two floats
(`works_low`, `works_high`); schedules and mounts stay objects. None where optional and absent."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """A single quantity.

    `default` None with `required` False means that it may be absent (value NaN for the law).
    `basis` says where the default comes from (a source, or "common practice, no source").
    `example` is shown when a required one is missing (`12 Ah`).
    `uncertain` True lets the file give `low .. high`.
    `whole` True wants a whole number.
    `only_with` names a choice of the model and its word with which alone this counts: with
    another word its default is not told as assumed, and to give it is a mistake.
    """

    name: str
    dimension: Dimension
    help: str
    required: bool = False
    default: float | None = None
    low: float | None = None
    high: float | None = None
    low_allowed: bool = True
    bound_reason: str = ""
    basis: str = ""
    example: str = ""
    shown_unit: str = ""
    whole: bool = False
    only_with: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """A low and a high limit of one quantity: `works 9 V .. 15 V`; the law sees
    `<name>_low` and `<name>_high`."""

    name: str
    dimension: Dimension
    help: str
    required: bool = False
    default: tuple[float, float] | None = None
    low: float | None = None
    high: float | None = None
    bound_reason: str = ""
    basis: str = ""
    example: str = ""
    shown_unit: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One word out of a few: `mode ssb`. Not seen by the law; see `Model.derive`."""

    name: str
    words: tuple[str, ...]
    help: str
    required: bool = False
    default: str | None = None
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Hours:
    """When something is on: `on 06:00 to 12:00, 14:00 to 23:00`, `off 23:00 to 05:30`; each window
    may have its days: `on 06:00 to 12:00 on 2026-06-19`.

    `name` is the entry that switches on; `inverse`, if given, the entry that switches off.
    The value is a `Schedule` of 0 and 1. Default: always on.
    """

    name: str
    help: str
    inverse: str = ""


@dataclass(frozen=True, slots=True)
class ShareByHour:
    """A share that may change with the hour and the day: `15 %`, or
    `20 % from 06:00 to 22:00, 5 % on 2026-06-21, otherwise 2 %`. The value is a `Schedule` of
    shares."""

    name: str
    help: str
    required: bool = False
    default: float | None = None
    basis: str = ""
    example: str = ""


@dataclass(frozen=True, slots=True)
class Mounting:
    """How a panel stands: `mount flat`, `mount 60 deg, south` or `mount aimed every 3 h`, as a
    `Mount`.

    In the file: `mount flat`, `mount TILT, FACING` where TILT is an angle from horizontal and
    FACING a word (north ... south_west) or an angle clockwise from true north, or `mount aimed
    every TIME`, turned and tilted to face the sun so often while it is up.
    """

    name: str
    help: str
    required: bool = False


@dataclass(frozen=True, slots=True)
class Ambient:
    """A temperature that is fixed (`5 degC`) or follows the air (`air`, `air + 6 K`).

    The value is an `AmbientRule`. Default: follows the air.
    """

    name: str
    help: str


AnyParameter: TypeAlias = Parameter | Window | Choice | Hours | ShareByHour | Mounting | Ambient

# ---- the values of the compound ones --------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Span24:
    """A window of the clock in seconds after midnight; it crosses midnight if end <= start.

    `days` are the first and the last date on which it begins, None for every day: one that
    crosses midnight belongs to the day on which it begins.
    """

    start_s: float
    end_s: float
    value: float
    days: tuple[date, date] | None = None


@dataclass(frozen=True, slots=True)
class Schedule:
    """A value by the hour and the day: the first window that holds decides, else `otherwise`."""

    windows: tuple[Span24, ...]
    otherwise: float

    @property
    def constant(self) -> bool:
        """True if neither the hour nor the day matters."""
        return not self.windows

    @property
    def dated(self) -> bool:
        """True if not all days are alike."""
        return any(window.days is not None for window in self.windows)


@dataclass(frozen=True, slots=True)
class Mount:
    """Tilt from horizontal and direction faced, in degrees; or, with `every_s`, aimed straight at
    the sun at sunrise and then so often while it is up, and the other two do not count."""

    tilt_deg: float
    facing_deg: float
    every_s: float | None = None


@dataclass(frozen=True, slots=True)
class AmbientRule:
    """`fixed_k` if not None, else air temperature plus `offset_k`."""

    fixed_k: float | None = None
    offset_k: float = 0.0


class ParameterProblem(Exception):
    """Raised by `Model.derive` when values do not fit each other; names the parameter."""

    def __init__(self, parameter: str, message: str, help: str = "") -> None:
        super().__init__(message)
        self.parameter = parameter
        self.message = message
        self.help = help


Derive: TypeAlias = Callable[[Values], dict[str, float]]
