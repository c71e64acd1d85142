"""How pictures look: colours that colour-blind people tell apart, dashes and hatches that stay
apart in grey, and fonts that come with matplotlib, so that a picture is the same everywhere.

Colours: M. Okabe and K. Ito, Color Universal Design (2008).
"""

from __future__ import annotations

import logging
import textwrap
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any

from copperpath.report.layout import visible

BLACK = "#000000"
ORANGE = "#E69F00"
SKY = "#56B4E9"
GREEN = "#009E73"
YELLOW = "#F0E442"
BLUE = "#0072B2"
VERMILLION = "#D55E00"
PURPLE = "#CC79A7"
GREY = "#8C8C8C"
NIGHT = "#E4E6EC"

LINES: tuple[tuple[str, Any], ...] = (
    (BLUE, "-"),
    (VERMILLION, (0, (6, 2))),
    (GREEN, (0, (1, 1.2))),
    (BLACK, (0, (7, 2, 1, 2))),
    (PURPLE, (0, (3, 1))),
    (ORANGE, (0, (4, 1, 1, 1, 1, 1))),
)
"""A colour and a dash for each line of a panel."""

# Any, as the type of these names differs between releases of matplotlib.
SETTINGS: Any = {
    "font.family": "DejaVu Sans",
    "font.size": 9.0,
    "axes.titlesize": 9.0,
    "axes.labelsize": 9.0,
    "xtick.labelsize": 8.0,
    "ytick.labelsize": 8.0,
    "legend.fontsize": 8.0,
    "axes.linewidth": 0.7,
    "hatch.linewidth": 0.6,
    "lines.linewidth": 1.5,
    # Names from a file are names, not formulas.
    "text.parse_math": False,
    "axes.unicode_minus": False,
    # Letters as outlines: a viewer without the font shows the same.
    "svg.fonttype": "path",
    "svg.hashsalt": "copperpath",
    "pdf.compression": 6,
    "path.simplify": True,
    "axes.spines.top": False,
    "axes.spines.right": False,
}


@contextmanager
def settled() -> Iterator[None]:
    """Inside, matplotlib has our settings, whatever the person's own are, and does not speak of
    its list of fonts, which it makes at its first use."""
    log = logging.getLogger("matplotlib")
    before = log.level
    log.setLevel(logging.ERROR)
    try:
        import matplotlib

        with matplotlib.rc_context():
            matplotlib.rcdefaults()
            matplotlib.rcParams.update(SETTINGS)
            yield
    finally:
        log.setLevel(before)


def shown(text: str) -> str:
    """A text from a file on one line, signs that the font has not as a question mark."""
    known = _signs()
    return "".join(sign if ord(sign) in known else "?" for sign in visible(text))


def wrapped(text: str, width: int) -> list[str]:
    """The same in lines of at most so many signs."""
    return textwrap.wrap(shown(text), width, break_on_hyphens=False)


@cache
def _signs() -> frozenset[int]:
    from matplotlib.font_manager import FontProperties, findfont
    from matplotlib.ft2font import FT2Font

    font = FT2Font(findfont(FontProperties(family="DejaVu Sans")))
    return frozenset(int(code) for code in font.get_charmap())
