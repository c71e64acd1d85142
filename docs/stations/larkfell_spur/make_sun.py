"""Write sun.csv: invented sun in the plane of the blanket, three days that get darker.

Half a sine from 06:00 to 18:00, 960 W/m2 at noon, times 1, 0.2 and 0.07 on the three days.
Each row is the light at its time; between rows it goes on in a straight line.
"""

from __future__ import annotations

import math
from datetime import datetime, timedelta, timezone
from pathlib import Path

STARTS = datetime(2026, 3, 28, 6, 0, tzinfo=timezone(timedelta(hours=1)))
PEAK_W_M2 = 960.0
SHARES = {28: 1.0, 29: 0.2, 30: 0.07}
EVERY = timedelta(minutes=10)
ROWS = 72 * 6 + 1


def light(when: datetime) -> float:
    """Light in the plane of the blanket [W/m2]."""
    hour = when.hour + when.minute / 60.0
    if not 6.0 < hour < 18.0:
        return 0.0
    return SHARES[when.day] * PEAK_W_M2 * math.sin(math.pi * (hour - 6.0) / 12.0)


def rows() -> list[str]:
    """The lines of the file."""
    times = [STARTS + number * EVERY for number in range(ROWS)]
    return ["time,plane [W/m2]", *(f"{when.isoformat()},{light(when):.2f}" for when in times)]


if __name__ == "__main__":
    text = "\n".join(rows()) + "\n"
    Path(__file__).with_name("sun.csv").write_text(text, encoding="utf-8", newline="\n")
