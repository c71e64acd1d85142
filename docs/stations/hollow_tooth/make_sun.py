"""Write sun.csv: invented December light in the plane of the panels, with days of rime.

Half a sine from 08:00 to 16:30, 3.4 kWh/m2 on a day without rime. The last three of every ten
days the panels are rimed over and get nothing.
"""

from __future__ import annotations

import math
from datetime import datetime, timedelta, timezone
from pathlib import Path

STARTS = datetime(2026, 12, 1, 0, 0, tzinfo=timezone(timedelta(hours=1)))
DAYS = 31
RISE_H, SET_H = 8.0, 16.5
DAY_WH_M2 = 3400.0
EVERY = timedelta(minutes=30)


def rimed(when: datetime) -> bool:
    """True on the 8th, 9th and 10th, the 18th, 19th and 20th, and so on."""
    return when.day % 10 in (8, 9, 0)


def light(when: datetime) -> float:
    """Light in the plane of the panels [W/m2]."""
    share = (when.hour + when.minute / 60.0 - RISE_H) / (SET_H - RISE_H)
    if rimed(when) or not 0.0 < share < 1.0:
        return 0.0
    return DAY_WH_M2 * math.pi / (2.0 * (SET_H - RISE_H)) * math.sin(math.pi * share)


def rows() -> list[str]:
    """The lines of the file."""
    times = [STARTS + number * EVERY for number in range(DAYS * 48 + 1)]
    return ["time,plane [W/m2]", *(f"{when.isoformat()},{light(when):.2f}" for when in times)]


if __name__ == "__main__":
    text = "\n".join(rows()) + "\n"
    Path(__file__).with_name("sun.csv").write_text(text, encoding="utf-8", newline="\n")
