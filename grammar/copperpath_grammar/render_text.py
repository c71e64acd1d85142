"""Diagnostics for people, at a terminal.

    bog.station, line 12, column 13
        receive 0,5 A; transmit 2.1 A
                ^^^^^
      problem: `0,5 A` has a decimal comma
      remedy:  write `0.5 A`; between two values put a blank after the comma

Only the layout is here; the words come from the diagnostics.
"""

from __future__ import annotations

from collections.abc import Iterable

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.source import Span
from copperpath_grammar.text_cells import Cell, cells_of, clean, width_of, wrap

MARGIN = "    "
DOTS = "..."
NARROWEST = 30
_COLOURS = {"place": "1", "marker": "1;31", "problem": "1;31", "remedy": "1;32"}


def render(
    diagnostics: Diagnostic | Iterable[Diagnostic], *, width: int = 80, colour: bool = False
) -> str:
    """Show one or more diagnostics, a blank line between two.

    Parameters
    ----------
    diagnostics : Diagnostic or iterable of Diagnostic
        What to show, in this order.
    width : int
        Columns of the terminal; no line is longer. At least 30 are used.
    colour : bool
        Whether to mark the parts with terminal colours.

    Returns
    -------
    str
        The text, without a line break at its end; empty for no diagnostics.
    """
    several = [diagnostics] if isinstance(diagnostics, Diagnostic) else list(diagnostics)
    width = max(width, NARROWEST)
    return "\n\n".join("\n".join(_one(each, width, colour)) for each in several)


def _one(diagnostic: Diagnostic, width: int, colour: bool) -> list[str]:
    span = diagnostic.span
    place = f"{span.source.name}, line {span.line}, column {span.column}"
    lines = [_painted(line, "place", colour) for line in wrap(place, width)]
    lines += _excerpt(span, diagnostic.label, width, colour)
    lines += _paragraph("  problem: ", diagnostic.message, "problem", width, colour)
    lines += _paragraph("  remedy:  ", diagnostic.help, "remedy", width, colour)
    for label in diagnostic.further:
        other = label.span.source.name
        file = "" if other == span.source.name else f"{other}, "
        place = f"see also {file}line {label.span.line}, column {label.span.column}:"
        lines += [f"  {line}" for line in wrap(place, width - 2)]
        lines += _excerpt(label.span, label.text, width, colour)
    return lines


def _paragraph(head: str, text: str, part: str, width: int, colour: bool) -> list[str]:
    """A headed paragraph whose further lines stand under the first."""
    lines = wrap(text, width - len(head))
    if not lines:
        return []
    rest = [" " * len(head) + line for line in lines[1:]]
    return [_painted(head, part, colour) + lines[0], *rest]


def _excerpt(span: Span, label: str, width: int, colour: bool) -> list[str]:
    """The line of text with a marker under the span; a long line is cut around it."""
    text = span.source.line_text(span.line)
    start = span.column - 1
    end = max(min(start + span.end - span.start, len(text)), start + 1)
    shown, before, marked = _cropped(text, start, end, width - len(MARGIN))
    if not shown.strip() and not label:
        return []
    marker = MARGIN + " " * before + _painted("^" * marked, "marker", colour)
    lines = [(MARGIN + shown).rstrip(), marker]
    if not label:
        return lines
    words = clean(label)
    if len(MARGIN) + before + marked + 1 + width_of(words) <= width:
        lines[-1] += f" {words}"
        return lines
    return [*lines, *(MARGIN + line for line in wrap(words, width - len(MARGIN)))]


def _cropped(text: str, start: int, end: int, room: int) -> tuple[str, int, int]:
    """The part of a line to show, the columns before the marked part, and its own columns.

    `start` and `end` are letters of the line; `room` is how many columns there are.
    """
    # Only the neighbourhood matters; a line may be a megabyte long.
    skipped = max(start - 2 * room, 0)
    cells = cells_of(text[skipped : start + 3 * room])
    more = len(text) > start + 3 * room
    start, end = start - skipped, end - skipped
    first = next((i for i, cell in enumerate(cells) if cell.index >= start), len(cells))
    if (
        first
        and (first == len(cells) or cells[first].index > start)
        and start < len(text) - skipped
    ):
        first -= 1  # a mark on a letter: point at the letter
    last = max(next((i for i, c in enumerate(cells) if c.index >= end), len(cells)), first + 1)
    behind_the_end = 1 if first == len(cells) else 0  # the marker takes a column there
    if not (skipped or more) and _columns(cells) + behind_the_end <= room:
        left, right = 0, len(cells)
    else:
        left, right = _window(cells, first, last, room - 2 * len(DOTS) - 1)
    head = DOTS if left or skipped else ""
    tail = DOTS if right < len(cells) or more else ""
    shown = head + "".join(cell.text for cell in cells[left:right]) + tail
    before = len(head) + _columns(cells[left:first])
    return shown, before, max(_columns(cells[first : min(last, right)]), 1)


def _window(cells: list[Cell], first: int, last: int, room: int) -> tuple[int, int]:
    """Which cells to show: the marked ones, or their beginning, and what fits around them."""
    left = right = min(first, len(cells))
    used = 0
    while right < min(last, len(cells)) and used + cells[right].width <= room:
        used += cells[right].width
        right += 1
    grown = True
    while grown:
        grown = False
        if left > 0 and used + cells[left - 1].width <= room:
            left -= 1
            used += cells[left].width
            grown = True
        if right < len(cells) and used + cells[right].width <= room:
            used += cells[right].width
            right += 1
            grown = True
    return left, right


def _columns(cells: list[Cell]) -> int:
    return sum(cell.width for cell in cells)


def _painted(text: str, part: str, colour: bool) -> str:
    return f"\x1b[{_COLOURS[part]}m{text}\x1b[0m" if colour else text
