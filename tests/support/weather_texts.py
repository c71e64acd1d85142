"""Weather files as text, small in all but their 8760 hours: what each hour holds is a function."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


@dataclass(frozen=True)
class Hour:
    """What one line says: light on the level, beam, diffuse [W/m2], air [degC]."""

    level: float = 0.0
    beam: float = 0.0
    diffuse: float = 0.0
    air: float = 5.0


Said = Callable[[int, int, int], Hour]
"""From month, day and the hour that begins."""


def quiet(month: int, day: int, hour: int) -> Hour:
    """Dark hours of 5 degC."""
    return Hour()


def hours() -> list[tuple[int, int, int]]:
    """Every hour of a year without 29 February."""
    return [
        (month, day + 1, hour)
        for month, days in enumerate(DAYS, 1)
        for day in range(days)
        for hour in range(24)
    ]


def epw_text(said: Said = quiet, place: str = "46.60,10.30,1.0,2650.0") -> str:
    """A text of the EPW form; months come from different years."""
    head = f"LOCATION,Tooth,-,-,made up,000000,{place}\n" + "".join(
        f"HEADER {number}\n" for number in range(2, 9)
    )
    lines = []
    for month, day, hour in hours():
        h = said(month, day, hour)
        cells = [f"{1990 + month}", f"{month}", f"{day}", f"{hour + 1}", "60", "?9"]
        cells += [f"{h.air}", "0", "50", "80000", "0", "0", "300"]
        cells += [f"{h.level}", f"{h.beam}", f"{h.diffuse}"]
        cells += ["0", "0", "0", "0", "180", "2.5", *["0"] * 13]
        lines.append(",".join(cells))
    return head + "\n".join(lines) + "\n"


def tmy3_text(said: Said = quiet, place: str = "1.0,46.60,10.30,2650") -> str:
    """A text of the TMY3 form, with the columns that count."""
    head = f'000000,"TOOTH",XX,{place}\n'
    head += (
        "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),"
        "Dry-bulb (C),Wspd (m/s)\n"
    )
    lines = []
    for month, day, hour in hours():
        h = said(month, day, hour)
        lines.append(
            f"{month:02}/{day:02}/{1980 + month},{hour + 1:02}:00,"
            f"{h.level},{h.beam},{h.diffuse},{h.air},2.5"
        )
    return head + "\n".join(lines) + "\n"
