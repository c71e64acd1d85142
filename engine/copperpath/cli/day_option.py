"""The `--day` option: a date as the language writes it."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING, TypeAlias

import click

if TYPE_CHECKING:
    DayParameter: TypeAlias = click.ParamType[date]
else:
    # Older releases of the library know no type argument.
    DayParameter = click.ParamType

FIRST_YEAR, LAST_YEAR = 1950, 2100
"""The formula of the sun's position is good there by far."""


class Day(DayParameter):
    """`2026-06-20`."""

    name = "date"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> date:
        """The text as a date; a usage error says what to write instead."""
        if isinstance(value, date):
            return value
        text = str(value).strip()
        found = re.fullmatch(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})", text, re.ASCII)
        if found is None:
            self.fail(f"{text!r} is no date; write it as 2026-06-20", param, ctx)
        try:
            day = date(int(found[1]), int(found[2]), int(found[3]))
        except ValueError:
            self.fail(f"there is no {text}; write a date such as 2026-06-20", param, ctx)
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            self.fail(f"{text} is not between {FIRST_YEAR} and {LAST_YEAR}", param, ctx)
        return day
