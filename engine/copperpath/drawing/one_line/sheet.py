"""The sheet: title above, drawing in the middle, findings and remarks at the foot [mm].

A4 upright or lying is taken if letters need not be smaller than `LEAST_PT`; otherwise the next
larger sheet, and a sheet of its own size where none is large enough.
"""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.drawing.one_line.annotations import Annotations
from copperpath.drawing.one_line.bodies import STYLES
from copperpath.drawing.one_line.compose import Drawing, Plan, draw_plan, make_plan
from copperpath.drawing.one_line.finding_marks import WORDS, shape
from copperpath.drawing.one_line.ink import Area, Line, Mark, Words, grouped, moved
from copperpath.drawing.one_line.labels import MARK_SHAPE, SPACE, make_labels
from copperpath.drawing.one_line.letters import cropped, shown, width, wrapped
from copperpath.drawing.one_line.order import make_grid
from copperpath.drawing.one_line.scheme import make_scheme
from copperpath.plugin_api import Terminal
from copperpath.required import BASE
from copperpath.station import Station

MM_PER_PT = 25.4 / 72.0
LEAST_PT, MOST_PT = 6.0, 9.0
SIZE_STEP = 0.25

SHEETS = (
    ("A4", 210.0, 297.0),
    ("A3", 297.0, 420.0),
    ("A2", 420.0, 594.0),
    ("A1", 594.0, 841.0),
    ("A0", 841.0, 1189.0),
)
MARGIN = 8.0
"""From the edge of the paper to the frame."""

INSET = 4.0
"""From the frame to what is drawn."""

LINE = 1.35
"""From one line of text to the next [em]."""

COLUMN = 52.0
"""The findings stand in columns at least this wide [em]."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A finished sheet: its marks, its name, its size [mm], and the size of its letters [pt]."""

    marks: tuple[Mark, ...]
    name: str
    width_mm: float
    height_mm: float
    letters_pt: float

    @property
    def em_mm(self) -> float:
        """Height of the letters."""
        return self.letters_pt * MM_PER_PT


def make_sheet(station: Station, case: str, notes: Annotations) -> Sheet:
    """The one-line diagram of a station on the smallest sheet on which it can be read."""
    grid = make_grid(make_scheme(station))
    plans = [
        make_plan(grid, make_labels(grid.scheme, notes, dense=style.dense), style)
        for style in STYLES
    ]
    drawings = [draw_plan(plan) for plan in plans]
    for name, short, long in SHEETS:
        best: tuple[float, int, float, float] | None = None
        flat = drawings[-1].width > drawings[-1].height
        upright, lying = (short, long), (long, short)
        for wide, tall in (lying, upright) if flat else (upright, lying):
            for number, drawing in enumerate(drawings):
                size = _largest(drawing, station, notes, wide, tall)
                # Of two that are as large, the airier, and the one with the shape of the drawing.
                if size >= LEAST_PT and (best is None or size > best[0]):
                    best = (size, number, wide, tall)
        if best is not None:
            size, number, wide, tall = best
            return _filled(plans[number], station, case, notes, Sheet((), name, wide, tall, size))
    em = LEAST_PT * MM_PER_PT
    wide = em * drawings[-1].width + 2.0 * (MARGIN + INSET)
    _, foot = _foot(station, notes, wide, em)
    tall = em * drawings[-1].height + _head(em) + foot + 2.0 * (MARGIN + INSET)
    own = Sheet((), f"{wide:.0f} x {tall:.0f} mm", wide, tall, LEAST_PT)
    return _filled(plans[-1], station, case, notes, own)


def _largest(
    drawing: Drawing, station: Station, notes: Annotations, wide: float, tall: float
) -> float:
    """The largest letters with which a drawing fits; 0 if it does not at all [pt]."""
    size = MOST_PT
    while size >= LEAST_PT - 1e-9:
        em = size * MM_PER_PT
        room = tall - 2.0 * (MARGIN + INSET) - _head(em)
        if em * drawing.width <= wide - 2.0 * (MARGIN + INSET):
            _, foot = _foot(station, notes, wide, em)
            if em * drawing.height + foot <= room:
                return size
        size -= SIZE_STEP
    return 0.0


def _head(em: float) -> float:
    return 4.6 * em


def _filled(plan: Plan, station: Station, case: str, notes: Annotations, sheet: Sheet) -> Sheet:
    """A sheet with everything on it."""
    em, wide, tall = sheet.em_mm, sheet.width_mm, sheet.height_mm
    left, right = MARGIN + INSET, wide - MARGIN - INSET
    drawing = draw_plan(plan)
    gaps = max(len(plan.widths) - 1, 1)
    spare = min(max((right - left) / em - drawing.width, 0.0), 5.0 * gaps)
    drawing = draw_plan(plan, spare)
    foot, foot_height = _foot(station, notes, wide, em)
    room = tall - 2.0 * (MARGIN + INSET) - _head(em) - foot_height
    over = max(room - em * drawing.height, 0.0)
    x = left + max(right - left - em * drawing.width, 0.0) / 2.0
    y = MARGIN + INSET + _head(em) + min(over / 2.0, 0.2 * room)
    frame = (
        (MARGIN, MARGIN),
        (wide - MARGIN, MARGIN),
        (wide - MARGIN, tall - MARGIN),
        (MARGIN, tall - MARGIN),
    )
    marks: list[Mark] = [Area(frame, "", "soft", 0.8)]
    marks += _scaled(_title(station, case, sheet), left, MARGIN + INSET, em)
    marks += _scaled(drawing.marks, x, y, em)
    marks += _scaled(foot, left, tall - MARGIN - INSET - foot_height, em)
    return Sheet(tuple(marks), sheet.name, wide, tall, sheet.letters_pt)


def _scaled(marks: tuple[Mark, ...] | list[Mark], x: float, y: float, em: float) -> list[Mark]:
    return list(moved(marks, x, y, em))


def _title(station: Station, case: str, sheet: Sheet) -> list[Mark]:
    """Title, case and what this is [em]."""
    room = (sheet.width_mm - 2.0 * (MARGIN + INSET)) / sheet.em_mm
    kind = "One-line diagram" + ("" if case == BASE else f', case "{shown(case)}"')
    return [
        Words(
            (0.0, 1.3), cropped(shown(station.title), room / 1.6, bold=True), size=1.6, bold=True
        ),
        Words((0.0, 3.0), cropped(kind, room), tone="soft"),
    ]


def _foot(station: Station, notes: Annotations, wide: float, em: float) -> tuple[list[Mark], float]:
    """The findings and remarks, and how high they are [mm]; its marks are in ems."""
    room = (wide - 2.0 * (MARGIN + INSET)) / em
    marks: list[Mark] = []
    y = 0.8
    if notes.findings:
        listed, height = _findings(notes, room)
        marks += moved(listed, 0.0, y)
        y += height + 0.6
    remarks = [*([notes.basis] if notes.basis else []), *_leads(station), _key(station, notes)]
    for remark in remarks:
        for line in wrapped(shown(remark), room):
            y += LINE
            marks.append(Words((0.0, y), line, tone="soft"))
    y += 0.3
    return [Line(((0.0, 0.0), (room, 0.0)), 0.6, "soft"), *marks], y * em


def _key(station: Station, notes: Annotations) -> str:
    """How the drawing is read, as far as it has it."""
    words = (
        "One line is both conductors. Over a cable: its length one way and the size of one "
        "conductor; a fuse stands at the end that it is fitted to."
    )
    if any(
        isinstance(each, Terminal) and each.alternating
        for device in station.devices
        for each in device.model.terminals
    ):
        words += " Dashed: mains."
    if notes.findings:
        words += (
            " Findings: filled triangle danger, filled square fail, open triangle warn, open "
            "circle note."
        )
    return words


def _leads(station: Station) -> list[str]:
    """Data and antenna leads, which are not drawn."""
    if not station.data_leads:
        return []
    each = []
    for lead in station.data_leads:
        facts = [lead.kind or "", "isolated" if lead.isolated else ""]
        facts.append("" if lead.length_m is None else f"{lead.length_m:g} m")
        inside = ", ".join(fact for fact in facts if fact)
        each.append(f"{lead.start} to {lead.end}" + (f" ({inside})" if inside else ""))
    return ["Not drawn, leads for data: " + "; ".join(each) + "."]


def _findings(notes: Annotations, room: float) -> tuple[list[Mark], float]:
    """The numbered findings in as many columns as fit, one after the other [em]."""
    count = max(1, min(int(room / COLUMN), len(notes.findings)))
    broad = room / count - 2.0
    blocks = []
    for number, finding in enumerate(notes.findings, start=1):
        word = WORDS[finding.level]
        lead = MARK_SHAPE + SPACE + width("000", bold=True) + SPACE
        marks: list[Mark] = [
            shape(finding.level, 0.0, 0.0),
            Words((MARK_SHAPE + SPACE, 0.0), str(number), bold=True),
        ]
        said = f"{word} {finding.rule}: {finding.message}"
        said += f"; let stand: {finding.accepted}" if finding.accepted else ""
        lines = wrapped(shown(said), broad - lead)
        marks += [Words((lead, row * LINE), line) for row, line in enumerate(lines)]
        blocks.append((grouped(marks, f"finding {number}"), len(lines) * LINE + 0.2))
    most = _even(tuple(height for _, height in blocks), count)
    drawn: list[Mark] = []
    column, y, deepest = 0, 0.0, 0.0
    for marks_of, height in blocks:
        if y + height > most + 1e-9 and column < count - 1:
            column, y = column + 1, 0.0
        drawn += moved(marks_of, column * room / count, y + 1.0)
        y += height
        deepest = max(deepest, y)
    return drawn, deepest


def _even(heights: tuple[float, ...], count: int) -> float:
    """The least height of columns that takes all blocks in order."""
    most = max(max(heights), sum(heights) / count)
    while True:
        columns, y = 1, 0.0
        for height in heights:
            if y + height > most + 1e-9:
                columns, y = columns + 1, 0.0
            y += height
        if columns <= count:
            return most
        most += 0.25
