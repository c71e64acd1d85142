"""Parts of a station's site that hold for a year: numbers by month, and files of weather."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

from copperpath.plugin_api import Mount, Weather

ByMonth: TypeAlias = Mapping[int, float]
"""A number for the middle of a month, 1 to 12; a month that is not there has none of its own."""


@dataclass(frozen=True, slots=True)
class MonthMean:
    """A month's light as tables have it: its mean [W/m²] over all hours of the month, on a plane
    that stands as `mount` says; level where that is flat."""

    mean_w_m2: float
    mount: Mount


@dataclass(frozen=True, slots=True)
class WeatherFile:
    """A year of hours from a weather file, by the name that the station gives it and the format."""

    path: str
    form: str
    weather: Weather


@dataclass(frozen=True, slots=True)
class Cover:
    """Rime or snow on the panels: the mean share of the light that it takes, in most months and in
    those that have their own."""

    kind: str
    otherwise: float
    by_month: ByMonth


USUAL_SPELL_S = 5.0 * 86_400.0
"""Mean length of a spell of rime or snow on panels: common practice, no source."""
