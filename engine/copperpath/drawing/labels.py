"""Labels that stand right of a panel, each beside the end of its line, none over another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LINE_IN = 0.145
"""Height of a line of text [inch]."""


@dataclass(frozen=True, slots=True)
class Label:
    """A text, where its line ends (in the panel's own unit), and its colour."""

    value: float
    text: str
    colour: str


def spread(wanted: Sequence[float], gap: float) -> list[float]:
    """Places nearest to the wanted ones (0 to 1) that lie at least `gap` apart and inside."""
    order = sorted(range(len(wanted)), key=lambda k: wanted[k])
    placed = [min(max(wanted[k], 0.0), 1.0) for k in order]
    for k in range(1, len(placed)):
        placed[k] = max(placed[k], placed[k - 1] + gap)
    if placed and placed[-1] > 1.0:
        placed[-1] = 1.0
        for k in range(len(placed) - 2, -1, -1):
            placed[k] = min(placed[k], placed[k + 1] - gap)
    found = [0.0] * len(wanted)
    for k, at in zip(order, placed, strict=True):
        found[k] = at
    return found


def label_ends(axes: Axes, labels: Sequence[Label]) -> None:
    """Write labels right of a panel whose limits are set."""
    low, high = axes.get_ylim()
    tall = axes.bbox.height / axes.figure.dpi
    wanted = [(label.value - low) / (high - low) for label in labels]
    lines = max((label.text.count("\n") + 1 for label in labels), default=1)
    for label, at in zip(labels, spread(wanted, lines * LINE_IN / tall), strict=True):
        axes.annotate(
            label.text,
            xy=(1.0, min(max((label.value - low) / (high - low), 0.0), 1.0)),
            xytext=(1.02, at),
            xycoords="axes fraction",
            textcoords="axes fraction",
            color=label.colour,
            fontsize=8.0,
            va="center",
            annotation_clip=False,
            arrowprops={"arrowstyle": "-", "color": label.colour, "linewidth": 0.6},
        )
