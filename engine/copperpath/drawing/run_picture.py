"""The picture of a run: charge, power and volts over the same time, the verdict above them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from copperpath.drawing.charge_panel import MOST_LINES, blocked_spans, draw_charge, store_lines
from copperpath.drawing.clock_axis import Clock, make_clock, nights, set_time, shade
from copperpath.drawing.look import settled, wrapped
from copperpath.drawing.page import write_picture
from copperpath.drawing.power_panel import draw_power
from copperpath.drawing.volts_panel import (
    LoadVolts,
    draw_volts,
    group_loads,
    left_out,
    nearest_loads,
)
from copperpath.record.record import Case, Record
from copperpath.report.run_screen import headline
from copperpath.report.words import duration, offset
from copperpath.required import BASE

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDE_IN = 10.0
LEFT_IN, RIGHT_IN = 0.85, 1.75
GAP_IN = 0.16
CHARGE_IN, POWER_IN, VOLTS_IN = 1.9, 2.5, 1.35
ALONE_IN = 1.9
"""Height of the only panel of volts."""

LINE_IN = 0.17
TITLE_IN = 0.28
TIME_IN = 0.62
WORDS_WIDE = 125
FOOT_WIDE = 165


def draw_run(record: Record, name: str = BASE) -> Figure:
    """The picture of one case of a run."""
    case = record.case(name)
    clock = make_clock(case, record.step_s)
    loads = nearest_loads(case)
    groups = group_loads(loads)
    volts_in = ALONE_IN if len(groups) == 1 else VOLTS_IN
    panels = [CHARGE_IN, POWER_IN, *[volts_in] * len(groups)]
    with settled():
        from matplotlib.figure import Figure

        title, words = _head(record, case)
        said = _left_out(case, clock, loads, groups)
        foot = _foot(record, case, clock, said)
        top_in = 0.18 + TITLE_IN * len(title) + LINE_IN * len(words) + 0.12
        foot_in = TIME_IN + LINE_IN * (len(foot) + 1)
        tall = top_in + sum(panels) + GAP_IN * (len(panels) - 1) + foot_in
        figure = Figure(figsize=(WIDE_IN, tall))
        _write_head(figure, tall, title, words)
        axes = _panels(figure, tall, top_in, panels)
        dark = [] if clock.long else nights(case, clock)
        for each in axes:
            shade(each, dark)
            set_time(each, clock, written=each is axes[-1])
        draw_charge(axes[0], case, clock)
        draw_power(axes[1], case, clock)
        for each, group in zip(axes[2:], groups, strict=True):
            draw_volts(each, group, clock)
        axes[-1].set_xlabel(f"time on the station's clock ({offset(clock.starts)})")
        _write_foot(figure, tall, foot)
    return figure


def save_run_picture(record: Record, path: Path, name: str = BASE) -> None:
    """Draw a case and write it.

    Raises
    ------
    PictureProblem
        If it cannot be written.
    """
    write_picture(draw_run(record, name), path)


def _panels(figure: Figure, tall: float, top_in: float, heights: list[float]) -> list[Axes]:
    found = []
    at = tall - top_in
    for height in heights:
        at -= height
        box = (
            LEFT_IN / WIDE_IN,
            at / tall,
            (WIDE_IN - LEFT_IN - RIGHT_IN) / WIDE_IN,
            height / tall,
        )
        found.append(figure.add_axes(box))
        at -= GAP_IN
    return found


def _head(record: Record, case: Case) -> tuple[list[str], list[str]]:
    """The title's lines, and those of the verdict."""
    title = case.station.title
    if case.name != BASE:
        title = f'{record.station.title}, case "{case.name}"'
    band = record.band if case.name == BASE else None
    words = wrapped(headline(case.verdict, band), WORDS_WIDE)
    return wrapped(title, 80)[:2], words + wrapped(case.verdict.sentence, WORDS_WIDE)


def _write_head(figure: Figure, tall: float, title: list[str], words: list[str]) -> None:
    at = tall - 0.18
    for line in title:
        figure.text(0.25 / WIDE_IN, at / tall, line, fontsize=12.5, weight="bold", va="top")
        at -= TITLE_IN
    for line in words:
        figure.text(0.25 / WIDE_IN, at / tall, line, fontsize=9.0, va="top")
        at -= LINE_IN


def _foot(record: Record, case: Case, clock: Clock, said: list[str]) -> list[str]:
    """How it was obtained, and what the signs mean."""
    steps = (
        f"step {record.step_s:g} s, {duration(clock.lasts_s)} from {clock.starts:%Y-%m-%d %H:%M}"
    )
    lines = wrapped(f"Obtained with: {steps}; sky: {case.provenance.get('sky', '-')}.", FOOT_WIDE)
    signs = "Volts: thick lines are the mean, thin ones the worst instant, every radio keyed that "
    signs += "may be. Dotted: the least that is needed; the reserve."
    if blocked_spans(case, clock):
        most = " for most of the day" if clock.pieces.daily else ""
        signs += f" Hatched: a store takes no charge{most}."
    lines += wrapped(signs, FOOT_WIDE)
    pieces = clock.pieces
    if pieces.thinned:
        said = [*said, f"steps are gathered by {duration(pieces.length_s)}, least and most kept"]
    said = [*said, "nights are not shaded in a run so long" if clock.long else "shaded: night"]
    said = [*said, "arithmetic, not permission"]
    words = "; ".join(said)
    return lines + wrapped(words[0].upper() + words[1:] + ".", FOOT_WIDE)


def _left_out(
    case: Case, clock: Clock, loads: list[LoadVolts], groups: list[list[LoadVolts]]
) -> list[str]:
    """What is not drawn, or not as it is in the record."""
    said = []
    stores = len(store_lines(case)) - MOST_LINES
    if stores > 0:
        said.append(f"{stores} more stores with more charge are left out")
    if clock.pieces.daily:
        said.append("power is the mean of each day")
    return said + left_out(loads, groups)


def _write_foot(figure: Figure, tall: float, lines: list[str]) -> None:
    at = LINE_IN * len(lines) + 0.04
    for line in lines:
        figure.text(0.25 / WIDE_IN, at / tall, line, fontsize=7.5, va="top", color="#333333")
        at -= LINE_IN
