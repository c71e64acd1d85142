"""The `--at` option: an instant of a run as the language writes it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone
from typing import TYPE_CHECKING, TypeAlias

import click

if TYPE_CHECKING:
    MomentParameter: TypeAlias = click.ParamType["Instant"]
else:
    # Older releases of the library know no type argument.
    MomentParameter = click.ParamType

FORM = re.compile(
    r"(?:(?P<year>[0-9]{4})-(?P<month>[0-9]{1,2})-(?P<day>[0-9]{1,2})\s+)?"
    r"(?P<hour>[0-9]{1,2}):(?P<minute>[0-9]{2})"
    r"(?:\s*(?P<sign>[-+−])(?P<hours>[0-9]{1,2}):(?P<minutes>[0-9]{2}))?",
    re.ASCII,
)
WAYS = "write it as 12:30, 2026-06-20 12:30 or 2026-06-20 12:30 +03:00"


@dataclass(frozen=True, slots=True)
class Instant:
    """A clock time; without a day it is on the first day of the run, without an offset from UTC
    on the clock of the station."""

    text: str
    day: date | None
    hour: int
    minute: int
    ahead: timezone | None

    def after(self, starts: datetime) -> float:
        """Seconds from the start of a run [s]; negative before it."""
        day = self.day or starts.date()
        zone = self.ahead or starts.tzinfo
        midnight = datetime(day.year, day.month, day.day, tzinfo=zone)
        instant = midnight + timedelta(hours=self.hour, minutes=self.minute)
        return (instant - starts).total_seconds()


class Moment(MomentParameter):
    """`12:30`, `2026-06-20 12:30`, `2026-06-20 12:30 +03:00`."""

    name = "moment"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> Instant:
        """The text as an instant; a usage error says what to write instead."""
        if isinstance(value, Instant):
            return value
        text = str(value).strip()
        found = FORM.fullmatch(text)
        if found is None or (found["sign"] and not found["year"]):
            self.fail(f"{text!r} is no time; {WAYS}", param, ctx)
        hour, minute = int(found["hour"]), int(found["minute"])
        if hour > 23 or minute > 59:
            self.fail(f"{text!r} is no time; clocks go from 00:00 to 23:59", param, ctx)
        try:
            day = _day(found)
            ahead = _ahead(found)
        except ValueError:
            self.fail(f"{text!r} is on no day, or no clock, that there is; {WAYS}", param, ctx)
        return Instant(text, day, hour, minute, ahead)


def _day(found: re.Match[str]) -> date | None:
    if not found["year"]:
        return None
    return date(int(found["year"]), int(found["month"]), int(found["day"]))


def _ahead(found: re.Match[str]) -> timezone | None:
    if not found["sign"]:
        return None
    ahead = timedelta(hours=int(found["hours"]), minutes=int(found["minutes"]))
    return timezone(ahead if found["sign"] == "+" else -ahead)
