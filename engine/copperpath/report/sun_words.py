"""How the table of the sun was worked out, for its screen, its picture and its JSON."""

from __future__ import annotations

from copperpath.report.names_of_many import in_a_sentence
from copperpath.report.words import MONTHS
from copperpath.study.held_stores import HELD_CHARGE
from copperpath.study.sun_days import CLEAR, CLOUDY, OVERCAST, OWN
from copperpath.study.sun_yield import SunTable

LEAST_A = 0.05
"""Less than this is shown as a dot."""


def how_words(table: SunTable) -> list[str]:
    """How the figures were obtained, a sentence each."""
    words = [
        f"amps: mean over the hour into {in_a_sentence(table.battery)}, held at {table.volts:.2f} "
        f"V, which is the rest voltage at {HELD_CHARGE:.0%} charge; through controllers (their "
        "efficiency, drop and limit) and cables; one panel at a time, all else off; what flows "
        "without sun is taken off",
        "clear: formula of Ineichen and Perez, monthly turbidity map bundled with pvlib",
        f"overcast: {OVERCAST:.0%} of clear, as Kasten and Czeplak (1980) found for a wholly "
        "covered sky",
    ]
    if table.monthly:
        words.append("each month: the day whose sun is nearest to its mean (Klein 1977)")
    words += [
        "air: as in the file, whatever the month; 10 degC warmer takes about 4 % from a panel, "
        "10 degC colder adds as much",
        f"a dot: less than {LEAST_A:g}",
        "left out: charging cut back near full or in the cold, snow, the shade of hills",
    ]
    if table.monthly and OWN in table.skies:
        words.insert(3, "file's sky: what the file says of the days of its run, for every month")
    if table.own_missing:
        words.append(table.own_missing)
    return words


def sky_words(sky: str) -> str:
    """A sky as a heading."""
    if sky == CLEAR:
        return "clear sky"
    if sky == CLOUDY:
        return f"overcast, {OVERCAST:.0%} of clear"
    return "the file's own sky"


def day_words(table: SunTable) -> str:
    """`20 June 2026`, or that each month has a typical day."""
    if table.monthly:
        return "a typical day of each month"
    day = table.days[0]
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def two_figures(value: float, least: float = LEAST_A) -> str:
    """`12`, `3.4`, `.` for next to nothing, `?` where no operating point was found."""
    if value != value:
        return "?"
    if value < least:
        return "."
    return f"{value:.1f}" if value < 9.95 else f"{value:.0f}"


def sunny_hours(table: SunTable) -> list[int]:
    """Hours of the clock from the first to the last in which any panel gives something."""
    lit = [
        hour
        for hour in range(24)
        for panel in table.panels
        for amps in panel.amps.values()
        if not (amps[:, hour] < LEAST_A).all()
    ]
    return list(range(min(lit), max(lit) + 1)) if lit else []
