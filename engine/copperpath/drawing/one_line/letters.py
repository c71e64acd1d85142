"""How wide words are in the font that paints them, and which signs that font has."""

from __future__ import annotations

from functools import cache

from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.textpath import TextToPath

from copperpath.drawing.one_line.ink import Box, Words
from copperpath.report.layout import visible

FONT = "DejaVu Sans"
"""Comes with matplotlib, so that a drawing looks the same on every machine."""

ASCENT = 0.76
DESCENT = 0.24
"""Of a line of letters, above and below its baseline [em]."""

MISSING = "□"
"""Stands for signs that the font does not have."""


@cache
def _known(bold: bool) -> frozenset[int]:
    return frozenset(get_font(findfont(_face(bold))).get_charmap())


@cache
def _face(bold: bool) -> FontProperties:
    return FontProperties(family=FONT, size=100, weight="bold" if bold else "normal")


def shown(text: str) -> str:
    """The text on one line, in signs that the font has."""
    both = _known(False) & _known(True)
    return "".join(sign if ord(sign) in both else MISSING for sign in visible(text))


@cache
def width(text: str, bold: bool = False) -> float:
    """Width of a text [em]."""
    if not text:
        return 0.0
    across, _, _ = TextToPath().get_text_width_height_descent(text, _face(bold), False)
    return float(across) / 100.0


def cropped(text: str, most: float, bold: bool = False) -> str:
    """A text of at most so many ems, its end left out where it is longer."""
    if width(text, bold) <= most:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if width(text[:middle].rstrip() + "…", bold) <= most:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"


def wrapped(text: str, most: float) -> list[str]:
    """Lines of at most so many ems; a word that is longer than a line is cut."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if width(longer) <= most:
            line = longer
            continue
        if line:
            lines.append(line)
        while width(word) > most and len(word) > 1:
            fits = max(1, len(cropped(word, most)) - 1)
            lines.append(word[:fits])
            word = word[fits:]
        line = word
    return [*lines, line] if line else lines


def box_of(words: Words, em: float = 1.0) -> Box:
    """What a line of text takes up; `em` is the length of an em in the unit of its place."""
    size = em * words.size
    across = size * width(words.text, words.bold)
    x, y = words.at
    left = {"left": x, "center": x - across / 2.0, "right": x - across}[words.align]
    return Box(left, y - ASCENT * size, left + across, y + DESCENT * size)
