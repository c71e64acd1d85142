"""Write sun.csv: invented winter sun in the plane of the panels, the same on each day.

Half a sine from 07:45 to 16:45, 2.2 kWh/m2 a day. Each row is the light at its time; between
rows it goes on in a straight line.
"""

from __future__ import annotations

import math
from datetime import datetime, timedelta, timezone
from pathlib import Path

STARTS = datetime(2026, 6, 12, 0, 0, tzinfo=timezone(timedelta(hours=12)))
RISE_H, SET_H = 7.75, 16.75
DAY_WH_M2 = 2200.0
EVERY = timedelta(minutes=15)
ROWS = 48 * 4 + 1


def light(when: datetime) -> float:
    """Light in the plane of the panels [W/m2]."""
    share = (when.hour + when.minute / 60.0 - RISE_H) / (SET_H - RISE_H)
    if not 0.0 < share < 1.0:
        return 0.0
    return DAY_WH_M2 * math.pi / (2.0 * (SET_H - RISE_H)) * math.sin(math.pi * share)


def rows() -> list[str]:
    """The lines of the file."""
    times = [STARTS + number * EVERY for number in range(ROWS)]
    return ["time,plane [W/m2]", *(f"{when.isoformat()},{light(when):.2f}" for when in times)]


if __name__ == "__main__":
    text = "\n".join(rows()) + "\n"
    Path(__file__).with_name("sun.csv").write_text(text, encoding="utf-8", newline="\n")
