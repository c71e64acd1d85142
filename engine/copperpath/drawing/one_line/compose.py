"""The drawing without its sheet: everything at its place [em]."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.drawing.one_line.bodies import (
    BAR,
    LINE,
    OVERHANG,
    Place,
    Style,
    header_width,
    make_places,
)
from copperpath.drawing.one_line.columns import Across, heights, make_across
from copperpath.drawing.one_line.finding_marks import draw_marks
from copperpath.drawing.one_line.ink import Area, Disc, Line, Mark, Tone, Words, grouped, moved
from copperpath.drawing.one_line.labels import SPACE, CableLabel, DeviceLabel, Labels, marks_width
from copperpath.drawing.one_line.letters import width
from copperpath.drawing.one_line.order import Cell, Grid
from copperpath.drawing.one_line.rows import Rows, make_rows
from copperpath.drawing.one_line.symbols import earth, fuse, symbol_of
from copperpath.station import Device

FUSE = (1.9, 0.66)
"""Width and height of a fuse in a wire."""

OVER, UNDER = 0.46, 1.0
"""From a wire up to the baseline of the words over it, and down to that of those under it."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """Marks within `width` and `height`, its left upper corner at (0, 0)."""

    marks: tuple[Mark, ...]
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Plan:
    """Where everything stands, before it is drawn; `stubs` are the stretches in each gap."""

    grid: Grid
    labels: Labels
    places: dict[str, Place]
    rows: Rows
    widths: tuple[float, ...]
    stubs: tuple[tuple[float, float], ...]
    edge: float
    """Room that the writing right of the last column takes."""


def make_plan(grid: Grid, labels: Labels, style: Style) -> Plan:
    """Heights, and widths of columns and stretches."""
    places = make_places(grid, labels, style)
    rows = make_rows(grid, {name: p.body for name, p in places.items()}, style.spacing)
    widths = tuple(_column_width(cells, labels, places) for cells in grid.columns)
    stubs = [[1.2, OVERHANG + 0.4] for _ in grid.columns]
    for segment in grid.segments:
        label = labels.links[segment.link]
        stub = stubs[segment.column]
        if segment.left.link < 0:
            stub[0] = max(stub[0], _left_stretch(label))
        if segment.right.link < 0:
            stub[1] = max(stub[1], _right_stretch(label))
    edge = max(
        (
            header_width(labels.devices[name], place) + 1.2
            for name, place in places.items()
            if place.beside
        ),
        default=OVERHANG,
    )
    return Plan(grid, labels, places, rows, widths, tuple((a, b) for a, b in stubs), edge)


def draw_plan(plan: Plan, spare: float = 0.0) -> Drawing:
    """Draw a plan; `spare` more width is shared out between the columns."""
    across = make_across(plan.grid, plan.rows, plan.widths, plan.stubs, spare)
    column = {
        cell.name: at
        for at, cells in enumerate(plan.grid.columns)
        for cell in cells
        if cell.link < 0
    }
    middle = {name: sum(across.columns[at]) / 2.0 for name, at in column.items()}
    marks: list[Mark] = []
    for link in range(len(plan.grid.scheme.links)):
        marks += _cable(plan, across, middle, link)
    for device in plan.grid.scheme.station.devices:
        marks += _device(plan, device, middle[device.name])
    shift = OVERHANG
    return Drawing(moved(marks, shift, 0.0), across.width + shift + plan.edge, plan.rows.height)


def _column_width(cells: tuple[Cell, ...], labels: Labels, places: dict[str, Place]) -> float:
    widest = 0.0
    for cell in cells:
        if cell.link >= 0:
            continue
        place = places[cell.name]
        widest = max(widest, 2.0 * max(place.words_left, place.words_right))
        if not place.beside:
            widest = max(widest, header_width(labels.devices[cell.name], place) - 2.0 * OVERHANG)
    return widest


def _slot(rating: str) -> float:
    return max(FUSE[0], width(rating)) if rating else 0.0


def _left_stretch(label: CableLabel) -> float:
    total = 0.4
    for piece in (width(label.left_terminal), _slot(label.left_fuse)):
        total += piece + SPACE if piece else 0.0
    return total + max(width(label.over) + marks_width(label.marks), width(label.under)) + 0.4


def _right_stretch(label: CableLabel) -> float:
    total = 0.4
    for piece in (width(label.right_terminal), _slot(label.right_fuse)):
        total += piece + SPACE if piece else 0.0
    return total


# ---- cables ---------------------------------------------------------------------------------


def _cable(plan: Plan, across: Across, middle: dict[str, float], number: int) -> list[Mark]:
    link, label = plan.grid.scheme.links[number], plan.labels.links[number]
    start_x = middle[link.left.device] + plan.places[link.left.device].right
    end_x = middle[link.right.device] - plan.places[link.right.device].left
    points = [(start_x, plan.rows.ends[number, "left"])]
    for segment in plan.grid.segments:
        if segment.link == number:
            step = across.gaps[segment.column].steps.get(number)
            first, second = heights(segment, plan.rows)
            if step is not None:
                points += [(step, first), (step, second)]
    points.append((end_x, plan.rows.ends[number, "right"]))
    marks: list[Mark] = [Line(tuple(points), 1.1, dashed=label.mains)]
    left, right = plan.places[link.left.device], plan.places[link.right.device]
    marks += _left_words(label, middle[link.left.device] + left.words_right, points[0][1])
    marks += _right_words(label, middle[link.right.device] - right.words_left, points[-1][1])
    return list(grouped(marks, f"cable {link.cable.name}"))


def _left_words(label: CableLabel, x: float, y: float) -> list[Mark]:
    marks: list[Mark] = []
    x += 0.4
    if label.left_terminal:
        marks.append(Words((x, y - OVER), label.left_terminal, tone="soft"))
        x += width(label.left_terminal) + SPACE
    if label.left_fuse:
        marks += _fuse(label.left_fuse, x, y)
        x += _slot(label.left_fuse) + SPACE
    if label.over:
        marks.append(Words((x, y - OVER), label.over))
    marks += draw_marks(label.marks, x + width(label.over), y - OVER)
    if label.under:
        marks.append(Words((x, y + UNDER), label.under, tone="figure"))
    return marks


def _right_words(label: CableLabel, x: float, y: float) -> list[Mark]:
    marks: list[Mark] = []
    x -= 0.4
    if label.right_terminal:
        x -= width(label.right_terminal)
        marks.append(Words((x, y - OVER), label.right_terminal, tone="soft"))
        x -= SPACE
    if label.right_fuse:
        marks += _fuse(label.right_fuse, x - _slot(label.right_fuse), y)
    return marks


def _fuse(rating: str, x: float, y: float) -> list[Mark]:
    half = _slot(rating) / 2.0
    return [
        *moved(fuse(*FUSE), x + half, y),
        Words((x + half, y - OVER - 0.06), rating, "center"),
    ]


# ---- devices --------------------------------------------------------------------------------


def _device(plan: Plan, device: Device, x: float) -> list[Mark]:
    name = device.name
    place, label = plan.places[name], plan.labels.devices[name]
    y, top, bottom = plan.rows.middle[name], plan.rows.top[name], plan.rows.bottom[name]
    marks: list[Mark] = []
    if place.bus:
        marks.append(Line(((x, top + 0.5), (x, bottom)), 5.0))
        low = bottom
    elif place.framed:
        edge = place.left
        corners = ((x - edge, top), (x + edge, top), (x + edge, bottom), (x - edge, bottom))
        marks.append(Area(corners, tone="soft"))
        marks += moved(symbol_of(device), x, y, place.half)
        low = bottom
    else:
        marks += moved(symbol_of(device), x, y, place.half)
        low = y + place.half * _lowest(device)
        marks += _bars(plan, name, x, y)
    if place.beside:
        marks += _header_beside(label, x + place.right + 0.6, y, place)
    else:
        marks += _header_above(label, x, top - 0.45 - place.reach)
    if label.bonds:
        # Wires and their words end at `bottom`; the bond begins at the symbol itself.
        marks.append(Line(((x, low), (x, bottom + 0.1))))
        marks += moved(earth(), x, bottom + 0.1, 1.0)
        marks.append(Words((x + 0.75, bottom + 1.15), ", ".join(label.bonds), tone="soft"))
    return list(grouped(marks, f"device {name}"))


def _lowest(device: Device) -> float:
    """The lower edge of a symbol, where a bond begins, in halves of its size."""
    found = 0.0
    for mark in symbol_of(device):
        match mark:
            case Area() | Line():
                near = [y for x, y in mark.points]
                found = max(found, *near)
            case Disc():
                found = max(found, mark.middle[1] + mark.radius)
    return found


def _bars(plan: Plan, name: str, x: float, y: float) -> list[Mark]:
    """Where several wires meet at one terminal: a bar beside the symbol, with its lead."""
    place = plan.places[name]
    marks: list[Mark] = []
    for has, side, sign in ((place.bars[0], "right", -1.0), (place.bars[1], "left", 1.0)):
        if not has:
            continue
        at = x + sign * (place.left if sign < 0 else place.right)
        ends = [
            plan.rows.ends[number, side]
            for number, link in enumerate(plan.grid.scheme.links)
            if (link.right if side == "right" else link.left).device == name
        ]
        marks.append(Line(((at - sign * BAR, y), (at, y)), 1.1))
        marks.append(Line(((at, min(ends)), (at, max(ends))), 1.1))
        marks += [Disc((at, end), 0.17, "ink") for end in sorted({*ends[1:-1], y})]
    return marks


def _header_above(label: DeviceLabel, x: float, y: float) -> list[Mark]:
    marks: list[Mark] = []
    if label.figures:
        marks.append(Words((x, y), label.figures, "center", tone="figure"))
        y -= LINE
    left = x - label.name_width / 2.0
    marks.append(Words((left, y), label.name, bold=True))
    return marks + draw_marks(label.marks, left + width(label.name, bold=True), y)


def _header_beside(label: DeviceLabel, x: float, y: float, place: Place) -> list[Mark]:
    two = bool(label.figures) and place.body.half > 0.9
    base = y + (-0.22 if two else 0.36)
    marks: list[Mark] = [Words((x, base), label.name, bold=True)]
    after = x + width(label.name, bold=True)
    marks += draw_marks(label.marks, after, base)
    if label.figures:
        tone: Tone = "figure"
        at = (x, base + LINE) if two else (x + label.name_width + 2 * SPACE, base)
        marks.append(Words(at, label.figures, tone=tone))
    return marks
