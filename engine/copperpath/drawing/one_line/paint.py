"""A sheet into a file: SVG, PNG or PDF, by matplotlib.

Letters become outlines in SVG, so that a drawing looks the same everywhere; in PDF they stay text
that can be searched. A `$` in a name is a dollar: nothing is read as a formula.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon
from matplotlib.text import Text

from copperpath.drawing.one_line.ink import Area, Disc, Line, Mark, Words
from copperpath.drawing.one_line.letters import FONT, shown
from copperpath.drawing.one_line.sheet import MM_PER_PT, Sheet
from copperpath.drawing.page import write_picture

MM_PER_INCH = 25.4
PNG_DPI = 200.0

WIRE_EM = 0.09
"""Width of a plain wire [em]."""

TONES = {
    "ink": "#101010",
    "soft": "#4d4d4d",
    "figure": "#0b3d91",
    "danger": "#a00016",
    "fail": "#8a3b00",
    "warn": "#7a4a00",
    "note": "#0b3d91",
    "paper": "#ffffff",
    "": "none",
}
"""Dark enough to be read in grey: each keeps a contrast of more than 7 to 1 on white."""

SETTINGS: Any = {
    "pdf.fonttype": 42,
    "path.simplify": False,
    # Letters are placed by their true widths, not by those that suit a coarse screen.
    "text.hinting": "no_hinting",
}
"""Beyond those that all pictures have."""


def save_sheet(sheet: Sheet, path: Path, title: str, *, dpi: float = PNG_DPI) -> None:
    """Write a sheet; the ending of the name says as what.

    Raises
    ------
    PictureProblem
        If it cannot be written.
    """
    write_picture(make_figure(sheet), path, dpi=dpi, title=shown(title), settings=SETTINGS)


def make_figure(sheet: Sheet) -> Figure:
    """The sheet as a figure of matplotlib, one unit a millimetre, y downwards."""
    figure = Figure(figsize=(sheet.width_mm / MM_PER_INCH, sheet.height_mm / MM_PER_INCH))
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set_xlim(0.0, sheet.width_mm)
    axes.set_ylim(sheet.height_mm, 0.0)
    met: set[str] = set()
    for order, mark in enumerate(sheet.marks):
        artist = _artist(mark, sheet)
        artist.set_zorder(1.0 + order * 1e-4)
        # Every device, cable and finding can be found in the file by its name, once.
        if mark.group and mark.group not in met:
            met.add(mark.group)
            artist.set_gid(shown(mark.group).replace(" ", "_"))
        axes.add_artist(artist)
    return figure


def _artist(mark: Mark, sheet: Sheet) -> Any:
    wire_pt = WIRE_EM * sheet.letters_pt
    match mark:
        case Line():
            xs, ys = zip(*mark.points, strict=True)
            return Line2D(
                xs,
                ys,
                color=TONES[mark.tone],
                linewidth=wire_pt * mark.weight,
                linestyle=(0, (5, 2.5)) if mark.dashed else "solid",
                solid_capstyle="butt" if mark.weight > 2 else "projecting",
                solid_joinstyle="miter",
            )
        case Area():
            return Polygon(
                mark.points,
                closed=True,
                facecolor=TONES[mark.fill],
                edgecolor=TONES[mark.tone],
                linewidth=wire_pt * mark.weight,
                joinstyle="miter",
            )
        case Disc():
            return Circle(
                mark.middle,
                mark.radius,
                facecolor=TONES[mark.fill],
                edgecolor=TONES[mark.tone],
                linewidth=wire_pt * mark.weight,
            )
        case Words():
            return Text(
                *mark.at,
                mark.text,
                # After being moved to the sheet, `size` is in millimetres.
                fontsize=mark.size / MM_PER_PT,
                fontweight="bold" if mark.bold else "normal",
                horizontalalignment=mark.align,
                verticalalignment="baseline",
                color=TONES[mark.tone],
                parse_math=False,
                fontfamily=FONT,
            )
