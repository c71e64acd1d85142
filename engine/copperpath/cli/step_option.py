"""The `--step` option: a length of time as people write it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, TypeAlias

import click

if TYPE_CHECKING:
    FloatOption: TypeAlias = click.ParamType[float]
else:
    # Older releases of the library know no type argument.
    FloatOption = click.ParamType

SECONDS = {
    "s": 1.0,
    "sec": 1.0,
    "second": 1.0,
    "seconds": 1.0,
    "min": 60.0,
    "minute": 60.0,
    "minutes": 60.0,
    "h": 3600.0,
    "hour": 3600.0,
    "hours": 3600.0,
}
SHORTEST_S = 1.0
LONGEST_S = 3600.0


class StepLength(FloatOption):
    """`60s`, `60 s`, `5 min`, `0.5 h`; between one second and one hour, in seconds."""

    name = "time"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """The text in seconds; a usage error says what to write instead."""
        if isinstance(value, float):
            return value
        text = str(value).strip()
        found = re.fullmatch(r"([0-9]+(?:\.[0-9]+)?)\s*([A-Za-z]+)", text)
        if found is None or found[2].lower() not in SECONDS:
            self.fail(f"{text!r} is not a length of time; write it as 60s or 5min", param, ctx)
        seconds = float(found[1]) * SECONDS[found[2].lower()]
        if not SHORTEST_S <= seconds <= LONGEST_S:
            self.fail(f"{text!r} is out of reach; a step lasts between 1s and 1h", param, ctx)
        return seconds
