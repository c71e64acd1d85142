"""Numbers, times and durations as people read them."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from copperpath.station import Station
from copperpath_grammar.source import Span

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")

JOULES_PER_WH = 3600.0


def nearest_minute(when: datetime) -> datetime:
    """To the minute, as clocks are read: 30 s and more count as the next."""
    return (when + timedelta(seconds=30)).replace(second=0, microsecond=0)


def place(span: Span, station: Station) -> str:
    """`line 12`, and of which file if it is one that the station includes."""
    file = "" if span.source.name == station.source.name else f" of {span.source.name}"
    return f"line {span.line}{file}"


def moment(when: datetime) -> str:
    """`Mon 30 March 12:20`, on the clock that the datetime carries, to the nearest minute."""
    near = nearest_minute(when)
    return f"{DAYS[near.weekday()]} {near.day} {MONTHS[near.month - 1]} {near:%H:%M}"


def day_and_year(when: datetime) -> str:
    """`28 March 2026 06:00`."""
    return f"{when.day} {MONTHS[when.month - 1]} {when.year} {when:%H:%M}"


def offset(when: datetime) -> str:
    """The clock's distance from universal time, `UTC+01:00`."""
    ahead = when.utcoffset() or timedelta(0)
    minutes = round(ahead.total_seconds() / 60.0)
    sign = "-" if minutes < 0 else "+"
    return f"UTC{sign}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def duration(seconds: float) -> str:
    """`45 min`, `29.6 h`, `3.5 days`: three figures at the most."""
    if seconds < 90.0:
        return f"{seconds:.3g} s"
    if seconds < 5400.0:
        return f"{seconds / 60.0:.3g} min"
    if seconds <= 100.0 * 3600.0:
        return f"{seconds / 3600.0:.3g} h"
    return f"{seconds / 86400.0:.3g} days"


def fixed(value: float | None, digits: int) -> str:
    """A number with a fixed count of digits after the dot; `-` where there is none."""
    if value is None or not math.isfinite(value):
        return "-"
    text = f"{value:.{digits}f}"
    # "-0.00" is a rounding of nothing, not a negative amount.
    return text.lstrip("-") if float(text) == 0.0 else text


def watt_hours(joules: float, digits: int = 1) -> str:
    """Joules as watt-hours, without the unit."""
    return fixed(joules / JOULES_PER_WH, digits)


def percent(share: float | None, digits: int = 0) -> str:
    """A share as percent, without the sign."""
    return "-" if share is None else fixed(100.0 * share, digits)


def coordinates(latitude_deg: float, longitude_deg: float) -> str:
    """`68.35 N, 18.82 E`."""
    north = "N" if latitude_deg >= 0 else "S"
    east = "E" if longitude_deg >= 0 else "W"
    return f"{abs(latitude_deg):g} {north}, {abs(longitude_deg):g} {east}"
