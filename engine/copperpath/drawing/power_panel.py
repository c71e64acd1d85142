"""The panel of power: what comes in stacked upwards, where it goes stacked downwards.

Both heights are equal at each time: the account of energy leaves nothing over.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from copperpath.drawing.clock_axis import Clock
from copperpath.drawing.look import BLUE, GREEN, GREY, ORANGE, PURPLE, SKY, YELLOW, shown
from copperpath.plugin_api import FloatArray
from copperpath.record.record import Case
from copperpath.report.layout import crop

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.legend import Legend

MOST_NAMED = 3
"""Sources, and loads, that have a layer of their own; the others share one."""

SOURCE_LOOKS = ((YELLOW, ""), (ORANGE, "..."), ("#B8860B", "xx"), ("#F7E9B0", "++"))
LOAD_LOOKS = ((BLUE, ""), (GREEN, "..."), (PURPLE, "xx"), ("#C9E4DA", "++"))
STORE_LOOK = (SKY, "////")
LOSS_LOOK = (GREY, "")


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the stack: its name, power (time,) [W], never negative, colour and hatch."""

    text: str
    watts: FloatArray
    colour: str
    hatch: str


def layers_in(case: Case) -> list[Layer]:
    """What comes in: the sources with the most energy first, then what stores give."""
    sources = _powers(case, "source")
    found = _named(sources, SOURCE_LOOKS, "sources")
    given = np.maximum(-case.account["stored"].values, 0.0)
    if _matters(given):
        found.append(Layer("out of the store", given, *STORE_LOOK))
    return found


def layers_out(case: Case) -> list[Layer]:
    """Where it goes: the loads with the most energy first, losses, and what stores take."""
    found = _named(_powers(case, "load"), LOAD_LOOKS, "loads")
    account = case.account
    lost = account["cables"].values + account["converters"].values
    lost = lost + account["storage_loss"].values
    # What panels take in the dark is lost, too.
    for power in _powers(case, "source", sign=-1.0).values():
        lost = lost + power
    found.append(Layer("lost in cables,\nconverters, stores", np.maximum(lost, 0.0), *LOSS_LOOK))
    taken = np.maximum(account["stored"].values, 0.0)
    if _matters(taken):
        found.append(Layer("into the store", taken, *STORE_LOOK))
    return found


def draw_power(axes: Axes, case: Case, clock: Clock) -> None:
    """Draw it."""
    entering, leaving = layers_in(case), layers_out(case)
    most = _stack(axes, entering, clock, 1.0)
    least = _stack(axes, leaving, clock, -1.0)
    tall = max(most, least, 1e-3) * 1.08
    axes.set_ylim(-tall, tall)
    axes.axhline(0.0, color="black", linewidth=0.8)
    axes.set_ylabel("power [W]\nout          in")
    axes.yaxis.set_major_formatter(lambda value, place: f"{abs(value):g}")
    _legend(axes, entering, leaving)


def _powers(case: Case, kind: str, sign: float = 1.0) -> dict[str, FloatArray]:
    """Power of each device of a kind, in the direction it is meant to have [W]."""
    return {
        device.name: np.maximum(sign * case.traces[f"{device.name}.power"].values, 0.0)
        for device in case.station.devices
        if device.kind == kind and f"{device.name}.power" in case.traces
    }


def _named(
    powers: dict[str, FloatArray], looks: tuple[tuple[str, str], ...], word: str
) -> list[Layer]:
    order = sorted(powers, key=lambda name: -float(np.nansum(powers[name])))
    keep = order if len(order) <= MOST_NAMED + 1 else order[:MOST_NAMED]
    found = [
        Layer(crop(shown(name), 20), powers[name], *look)
        for name, look in zip(keep, looks, strict=False)
    ]
    rest = order[len(keep) :]
    if rest:
        total = np.sum([powers[name] for name in rest], axis=0)
        found.append(Layer(f"{len(rest)} other {word}", total, *looks[-1]))
    return found


def _matters(power: FloatArray) -> bool:
    return bool(np.nanmax(power, initial=0.0) > 1e-6)


def _stack(axes: Axes, layers: list[Layer], clock: Clock, sign: float) -> float:
    """Stack layers away from zero; the height of the whole at its highest."""
    pieces = clock.pieces
    below = np.zeros(len(pieces.first))
    for layer in layers:
        above = below + np.nan_to_num(pieces.mean(layer.watts))
        axes.stairs(
            sign * above, pieces.edges_s, baseline=sign * below, fill=True,
            facecolor=layer.colour, edgecolor="#333333", hatch=layer.hatch, linewidth=0.0,
            label=layer.text, gid=f"{'in' if sign > 0 else 'out'}: {layer.text}",
        )  # fmt: skip
        below = above
    if layers:
        axes.stairs(sign * below, pieces.edges_s, baseline=None, color="black", linewidth=0.7)
    return float(below.max(initial=0.0))


def _legend(axes: Axes, entering: list[Layer], leaving: list[Layer]) -> None:
    """Names beside the panel, in the order in which the layers lie from top to bottom."""
    if entering:
        axes.add_artist(_names(axes, entering[::-1], "in", "upper left", 1.04))
    _names(axes, leaving, "out", "lower left", -0.04)


def _names(
    axes: Axes,
    layers: list[Layer],
    title: str,
    corner: Literal["upper left", "lower left"],
    height: float,
) -> Legend:
    from matplotlib.patches import Patch

    handles = [
        Patch(
            facecolor=layer.colour, edgecolor="#333333", hatch=layer.hatch, linewidth=0.5,
            label=layer.text,
        )
        for layer in layers
    ]  # fmt: skip
    return axes.legend(
        handles=handles, loc=corner, bbox_to_anchor=(1.01, height), frameon=False, title=title,
        title_fontsize=8.0, handlelength=1.6, handleheight=1.0, labelspacing=0.3,
        alignment="left",
    )  # fmt: skip
