"""The room that each device takes in a drawing: its symbol, its header, its bonds [em]."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.drawing.one_line.labels import SPACE, CableLabel, DeviceLabel, Labels
from copperpath.drawing.one_line.letters import width
from copperpath.drawing.one_line.order import Grid
from copperpath.drawing.one_line.rows import Body, Spacing, side_links
from copperpath.drawing.one_line.symbols import edge_of, is_bus, reach_up
from copperpath.station import Device

LINE = 1.2
"""From one line of a header to the next."""

BOND = 2.0
"""What a bond hangs below its device, with the name of what it leads to."""

BAR = 0.9
"""From a symbol to the bar that joins several wires at one terminal."""

OVERHANG = 2.2
"""Writing above a symbol may be so much wider than its column, on either side."""


@dataclass(frozen=True, slots=True)
class Style:
    """Sizes: halves of symbols between others and at the right edge, distances, and whether
    headers at the right edge are one line."""

    half: float
    half_load: float
    spacing: Spacing
    dense: bool


OPEN = Style(1.4, 1.2, Spacing(4.9, 1.3, 1.3, 2.8), dense=False)
AIRY = Style(1.4, 1.2, Spacing(3.7, 1.3, 1.3, 1.6), dense=False)
ROOMY = Style(1.4, 1.2, Spacing(2.7, 1.3, 1.3, 0.5), dense=False)
DENSE = Style(1.1, 0.8, Spacing(1.74, 1.3, 0.42, 0.08), dense=True)
STYLES = (OPEN, AIRY, ROOMY, DENSE)
"""From the airiest to the densest; of two that allow letters as large, the airier is taken."""


@dataclass(frozen=True, slots=True)
class Place:
    """How a device is drawn.

    `bus` is a bus bar, `framed` a box about its symbol that reaches over all its wires, `beside`
    tells that its header stands right of it, `bars` whether wires join at a bar on the left and
    on the right. `half` is half its symbol; `left` and `right` reach from its middle to where
    wires begin, `reach` is what sticks out above it.
    """

    bus: bool
    framed: bool
    beside: bool
    bars: tuple[bool, bool]
    half: float
    left: float
    right: float
    reach: float
    body: Body

    @property
    def words_left(self) -> float:
        """From its middle to where words on wires begin: plates are higher than those."""
        return self.left if self.bus else max(self.left, self.half)

    @property
    def words_right(self) -> float:
        """The same on its right side."""
        return self.right if self.bus else max(self.right, self.half)


def make_places(grid: Grid, labels: Labels, style: Style) -> dict[str, Place]:
    """How each device of a grid is drawn."""
    sides = side_links(grid)
    last = {cell.name for cell in grid.columns[-1]} if grid.columns else set()
    found = {}
    for device in grid.scheme.station.devices:
        left, right = sides[device.name]
        terminals = [{_terminal(grid, end) for end in side} for side in (left, right)]
        beside = device.name in last and device.kind == "load" and not right
        found[device.name] = _place(
            device,
            labels.devices[device.name],
            style,
            beside,
            (len(left), len(right)),
            any(len(each) > 1 for each in terminals),
            any(_has_words(labels.links[link]) for link, _ in left),
        )
    return found


def header_width(label: DeviceLabel, place: Place) -> float:
    """Of the writing above a device, or right of it."""
    figures = width(label.figures)
    if place.beside and place.body.over < LINE:
        return label.name_width + (2 * SPACE + figures if figures else 0.0)
    return max(label.name_width, figures)


def _terminal(grid: Grid, end: tuple[int, str]) -> str:
    link = grid.scheme.links[end[0]]
    return (link.left if end[1] == "left" else link.right).terminal


def _has_words(label: CableLabel) -> bool:
    """True if something is written at the right end of a cable."""
    return bool(label.right_fuse or label.right_terminal)


def _place(
    device: Device,
    label: DeviceLabel,
    style: Style,
    beside: bool,
    counts: tuple[int, int],
    several: bool,
    words: bool,
) -> Place:
    bus = is_bus(device)
    half = style.half_load if beside else style.half
    framed = several and not bus
    bars = (counts[0] > 1 and not framed and not bus, counts[1] > 1 and not framed and not bus)
    lines = 1 + bool(label.figures)
    over = 0.0 if beside else LINE * lines + 0.2
    under = BOND if label.bonds else 0.0
    tall = half
    if beside:
        tall = max(half, 0.55 if style.dense else 0.62 * lines)
    elif bus:
        tall = 1.3
    elif framed:
        tall = half + 0.4
    reach = 0.0 if bus or beside else half * reach_up(device)
    edge = 0.16 if bus else half + 0.4 if framed else half * edge_of(device)
    return Place(
        bus,
        framed,
        beside,
        bars,
        half,
        edge + (BAR if bars[0] else 0.0),
        edge + (BAR if bars[1] else 0.0),
        reach,
        Body(tall, over + reach, under, bus or framed, beside and not words),
    )
