"""Write ridge_post_sky.csv: an invented year of light on the level, one row an hour.

Height of the sun by the plain formula (declination a cosine over the year, no equation of time),
a clear sky that grows with that height, and clouds drawn from a fixed seed: a share of clear for
each day, and a smaller change from hour to hour. Nothing here is measured anywhere.

Each row is the light at its time. The engine draws straight lines between rows, so that the light
of a step is that of its middle on such a line; it does not hold a row until the next.
"""

from __future__ import annotations

import math
import random
from datetime import UTC, datetime, timedelta
from pathlib import Path

STARTS = datetime(2026, 1, 1, 0, 0, tzinfo=UTC) - timedelta(hours=1)
"""Midnight of the station's clock, one hour ahead of UTC."""
HOURS = 365 * 24
LATITUDE = math.radians(47.1)
LONGITUDE_H = 10.9 / 15.0
"""How far the sun is ahead of UTC [h]."""
TILT = math.radians(23.44)


def sine_of_height(hour: float) -> float:
    """Sine of the sun's height, `hour` counted from STARTS."""
    day = hour / 24.0
    declination = -TILT * math.cos(2.0 * math.pi * (day + 10.0) / 365.0)
    sun_clock = (hour - 1.0 + LONGITUDE_H) % 24.0
    angle = 2.0 * math.pi * (sun_clock - 12.0) / 24.0
    return math.sin(LATITUDE) * math.sin(declination) + math.cos(LATITUDE) * math.cos(
        declination
    ) * math.cos(angle)


def rows() -> list[str]:
    """The lines of the file."""
    draw = random.Random(20260101)
    lines = ["time,global [W/m2]"]
    share_of_day = 1.0
    for hour in range(HOURS + 1):
        if hour % 24 == 0:
            share_of_day = 0.15 + 0.85 * draw.random() ** 0.7
        share = min(1.0, share_of_day * (0.8 + 0.4 * draw.random()))
        light = 1080.0 * share * max(sine_of_height(float(hour)), 0.0) ** 1.2
        when = STARTS + timedelta(hours=hour)
        lines.append(f"{when:%Y-%m-%dT%H:%MZ},{light:.1f}")
    return lines


if __name__ == "__main__":
    text = "\n".join(rows()) + "\n"
    target = Path(__file__).with_name("ridge_post_sky.csv")
    target.write_text(text, encoding="utf-8", newline="\n")
