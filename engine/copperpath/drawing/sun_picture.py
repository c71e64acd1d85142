"""The table of the sun as a picture: months across, hours down, the darker the more amps.

Shades of one grey, with the figure in each cell, so that a copy in black and white loses nothing.
For a single day it is a curve for each sky.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from copperpath.drawing.labels import Label, label_ends
from copperpath.drawing.look import LINES, settled, shown, wrapped
from copperpath.drawing.page import write_picture
from copperpath.plugin_api import FloatArray
from copperpath.report.layout import crop
from copperpath.report.sun_screen import panel_words
from copperpath.report.sun_words import (
    LEAST_A,
    day_words,
    how_words,
    sky_words,
    sunny_hours,
    two_figures,
)
from copperpath.report.words import MONTHS, coordinates, offset
from copperpath.study.sun_yield import TOGETHER, PanelYield, SunTable

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_PANELS = 4
CELL_WIDE_IN, CELL_TALL_IN = 0.36, 0.2
LEFT_IN, RIGHT_IN, GAP_IN = 0.85, 0.3, 0.75
HEAD_IN, NAME_IN, SUMS_IN = 0.85, 0.55, 0.55
LINE_IN = 0.16
SIGNS_AN_INCH = 16.5
CURVE_WIDE_IN, CURVE_TALL_IN, LABEL_IN = 6.0, 2.2, 1.6
DARKEST = 0.5
"""The most amps are drawn this dark (1 is black), so that black figures can be read on them."""


def draw_sun(table: SunTable) -> Figure:
    """The picture of a table."""
    with settled():
        return _months(table) if table.monthly else _one_day(table)


def save_sun_picture(table: SunTable, path: Path) -> None:
    """Draw a table and write it.

    Raises
    ------
    PictureProblem
        If it cannot be written.
    """
    write_picture(draw_sun(table), path)


def drawn_panels(table: SunTable) -> list[PanelYield]:
    """Those that are drawn: all of them together first, then as many as fit."""
    order = sorted(table.panels, key=lambda panel: TOGETHER not in panel.names)
    return order[:MOST_PANELS]


def _page(
    table: SunTable, wide: float, rows: int, row_in: float
) -> tuple[Figure, float, list[PanelYield]]:
    """A figure with head and foot written, its height, and the panels that are drawn in it."""
    from matplotlib.figure import Figure

    panels = drawn_panels(table)
    foot = [line for words in _foot(table) for line in wrapped(words, int(wide * SIGNS_AN_INCH))]
    tall = HEAD_IN + rows * row_in + LINE_IN * len(foot) + 0.35
    figure = Figure(figsize=(wide, tall))
    at = tall - 0.15
    for line in wrapped(table.station.title, int(wide * 8))[:1]:
        figure.text(0.25 / wide, at / tall, line, fontsize=12.5, weight="bold", va="top")
    site = table.station.site
    words = (
        f"{coordinates(site.latitude_deg, site.longitude_deg)}, {day_words(table)}: amps [A] that "
        f"the sun gives at the battery ({table.volts:.2f} V)"
    )
    figure.text(0.25 / wide, (at - 0.3) / tall, shown(words), va="top")
    at = LINE_IN * len(foot) + 0.06
    for line in foot:
        figure.text(0.25 / wide, at / tall, line, fontsize=7.5, va="top", color="#333333")
        at -= LINE_IN
    return figure, tall, panels


def _foot(table: SunTable) -> list[str]:
    words = how_words(table)
    left = len(table.panels) - MOST_PANELS
    if left > 0:
        words.append(f"{left} more panels are left out; `copperpath sun` prints them")
    return [each[0].upper() + each[1:] + "." for each in words]


def _months(table: SunTable) -> Figure:
    hours = sunny_hours(table) or [12]
    cells_in = (12 * CELL_WIDE_IN, len(hours) * CELL_TALL_IN)
    skies = len(table.skies)
    wide = LEFT_IN + skies * cells_in[0] + (skies - 1) * GAP_IN + RIGHT_IN
    row_in = NAME_IN + cells_in[1] + SUMS_IN + 0.1
    rows = min(len(table.panels), MOST_PANELS)
    figure, tall, panels = _page(table, wide, rows, row_in)
    clock = offset(table.station.site.starts)
    for row, panel in enumerate(panels):
        bottom = tall - HEAD_IN - row * row_in - NAME_IN - cells_in[1]
        most = max(float(np.nanmax(amps)) for amps in panel.amps.values())
        for column, sky in enumerate(table.skies):
            left = LEFT_IN + column * (cells_in[0] + GAP_IN)
            box = (left / wide, bottom / tall, cells_in[0] / wide, cells_in[1] / tall)
            axes = figure.add_axes(box)
            _cells(axes, panel.amps[sky][:, hours].T, most)
            _sums(axes, panel, sky, len(hours))
            axes.set_yticks(range(len(hours)), [f"{hour:02d}-{hour + 1:02d}" for hour in hours])
            name = crop(shown(panel_words(panel)), 34)
            axes.set_title(f"{name}: {sky_words(sky)}", loc="left", pad=20.0, weight="bold")
            if column == 0:
                axes.set_ylabel(f"hour ({clock})")
    return figure


def _cells(axes: Axes, amps: FloatArray, most: float) -> None:
    """The amps (hour, month) as shaded cells with their figures."""
    shade = 1.0 - DARKEST * np.nan_to_num(amps) / max(most, LEAST_A)
    axes.imshow(shade, cmap="gray", vmin=0.0, vmax=1.0, aspect="auto", interpolation="nearest")
    for (hour, month), value in np.ndenumerate(amps):
        axes.text(
            month, hour, two_figures(value), ha="center", va="center", fontsize=7.5,
            gid=f"amps {hour} {month}",
        )  # fmt: skip
    axes.set_xticks(range(12), [month[:3] for month in MONTHS])
    axes.tick_params(length=0.0, top=False, labeltop=True, bottom=False, labelbottom=False)
    for spine in axes.spines.values():
        spine.set_visible(False)


def _sums(axes: Axes, panel: PanelYield, sky: str, hours: int) -> None:
    """Ah a day and sun hours under the cells."""
    rows = [("Ah a day", panel.amp_hours(sky))]
    if panel.sun_hours is not None:
        rows.append(("sun hours", panel.sun_hours[sky]))
    for row, (word, values) in enumerate(rows):
        at = hours + 0.15 + row
        axes.text(-0.65, at, word, ha="right", va="center", fontsize=7.5, weight="bold")
        for month, value in enumerate(values):
            axes.text(
                month, at, two_figures(float(value)), ha="center", va="center", fontsize=7.5,
                weight="bold",
            )  # fmt: skip
    axes.plot([-0.5, 11.5], [hours - 0.5] * 2, color="black", linewidth=0.8, clip_on=False)


def _one_day(table: SunTable) -> Figure:
    wide = LEFT_IN + CURVE_WIDE_IN + LABEL_IN
    row_in = CURVE_TALL_IN + 0.75
    rows = min(len(table.panels), MOST_PANELS)
    figure, tall, panels = _page(table, wide, rows, row_in)
    for row, panel in enumerate(panels):
        bottom = tall - HEAD_IN - row * row_in - CURVE_TALL_IN - 0.15
        box = (LEFT_IN / wide, bottom / tall, CURVE_WIDE_IN / wide, CURVE_TALL_IN / tall)
        axes = figure.add_axes(box)
        _curves(axes, table, panel)
    axes.set_xlabel(f"hour on the station's clock ({offset(table.station.site.starts)})")
    return figure


def _curves(axes: Axes, table: SunTable, panel: PanelYield) -> None:
    edges = np.arange(25.0)
    labels = []
    for sky, (colour, dash) in zip(table.skies, LINES, strict=False):
        amps = panel.amps[sky][0]
        axes.stairs(
            np.nan_to_num(amps), edges, baseline=None, color=colour, linestyle=dash,
            linewidth=1.5, gid=sky,
        )  # fmt: skip
        day = two_figures(float(panel.amp_hours(sky)[0]))
        labels.append(Label(float(np.nanmax(amps)), f"{sky}: {day} Ah", colour))
    axes.set_xlim(0.0, 24.0)
    axes.set_xticks(range(0, 25, 3), [f"{hour:02d}:00" for hour in range(0, 25, 3)])
    axes.set_ylim(0.0, max(max(label.value for label in labels) * 1.08, 0.1))
    axes.set_ylabel("amps at the\nbattery [A]")
    axes.set_title(crop(shown(panel_words(panel)), 60), loc="left", weight="bold")
    axes.grid(axis="y", color="#CCCCCC", linewidth=0.5)
    label_ends(axes, labels)
