"""What screens and pages say of a topic: its worst figure, its disagreements, its sources."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from copperpath.report.validation.table import Figure, NotChecked


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Figures of a topic that lie outside their tolerance for one reason."""

    topic: str
    reason: str
    figures: tuple[Figure, ...]


def worst(figures: Iterable[Figure]) -> Figure | None:
    """Of the figures that agree, the one that comes nearest to its tolerance; where others give a
    range there is no such thing."""
    agree = [figure for figure in figures if not (figure.disagrees or figure.band)]
    return max(agree, key=lambda figure: abs(figure.off) / figure.tolerance, default=None)


def disagreements(figures: Iterable[Figure]) -> list[Disagreement]:
    """Those outside their tolerance, by topic and reason, in order."""
    found: dict[tuple[str, str], list[Figure]] = {}
    for figure in figures:
        if figure.disagrees:
            found.setdefault((figure.topic, figure.disagrees), []).append(figure)
    return [Disagreement(*key, tuple(group)) for key, group in found.items()]


def sources(figures: Iterable[Figure]) -> list[tuple[str, str, int]]:
    """Each source, how it was obtained, and how many figures come from it."""
    counted: dict[tuple[str, str], int] = {}
    for figure in figures:
        key = (figure.source, figure.obtained)
        counted[key] = counted.get(key, 0) + 1
    return [(*key, count) for key, count in counted.items()]


def by_reason(left: Iterable[NotChecked]) -> list[tuple[str, Sequence[NotChecked]]]:
    """Rows that are not checked, put together by their reason."""
    found: dict[str, list[NotChecked]] = {}
    for each in left:
        found.setdefault(each.reason, []).append(each)
    return list(found.items())


def furthest(figures: Sequence[Figure]) -> Figure:
    """The one furthest off, counted in tolerances."""
    return max(figures, key=lambda figure: abs(figure.off) / figure.tolerance)


def source_shown(source: str, obtained: str) -> str:
    """A source, and how it was obtained where it does not say so itself."""
    return source if obtained in source else f"{source} ({obtained})"


def number_shown(value: float) -> str:
    """A figure with four digits, or all before the point."""
    return f"{value:.0f}" if 1e4 <= abs(value) < 1e7 else f"{value + 0.0:.4g}"


def shown(value: float, unit: str) -> str:
    """A figure with its unit."""
    return f"{number_shown(value)} {unit}".rstrip()


def theirs_shown(figure: Figure) -> str:
    """The figure of others, or their range."""
    if not figure.band:
        return shown(figure.expected, figure.unit)
    low, high = figure.expected - figure.tolerance, figure.expected + figure.tolerance
    return f"{low + 0.0:.3g} to {high:.3g} {figure.unit}".rstrip()


def tolerance_shown(figure: Figure) -> str:
    """How far off it may be."""
    return "the range" if figure.band else shown(float(f"{figure.tolerance:.2g}"), figure.unit)


def off_shown(figure: Figure) -> str:
    """How far ours is off, with its sign; rounding of the machine is nothing."""
    if figure.band and not figure.disagrees:
        return "inside"
    off = figure.off
    if figure.band:
        # From the nearer end of the range.
        off -= figure.tolerance if off > 0.0 else -figure.tolerance
    off = 0.0 if abs(off) < 1e-9 * max(abs(figure.expected), 1e-12) else off
    return f"{off:+.2g} {figure.unit}".rstrip() if off else shown(0.0, figure.unit)
