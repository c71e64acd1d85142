"""The made part of the documentation's page on checks: tables in Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from copperpath.report.validation.digest import (
    by_reason,
    disagreements,
    furthest,
    off_shown,
    shown,
    source_shown,
    sources,
    theirs_shown,
    tolerance_shown,
    worst,
)
from copperpath.report.validation.table import Figure, Topic, Validation


def validation_tables(found: Validation) -> str:
    """Worst figures by topic, what differs, what is not checked, then every figure."""
    parts = [
        "## At a glance\n",
        _grid(
            ("topic", "about", "figures", "differ", "worst"),
            [_summary(topic, found.of(topic.name)) for topic in found.topics],
        ),
    ]
    parts += ["\n## What differs, and why\n"]
    for each in disagreements(found.figures):
        far = furthest(each.figures)
        parts += [
            f"- **{each.topic}**, {len(each.figures)} of {len(found.of(each.topic))} figures, "
            f"the furthest {off_shown(far)} ({far.claim}): {each.reason}"
        ]
    parts += ["\n## Published, and not checked\n"]
    for reason, left in by_reason(found.not_checked):
        tables = "; ".join(f"{each.table} ({each.rows})" for each in left)
        parts += [f"- {reason}: {tables}"]
    for topic in found.topics:
        parts += [_topic(topic, found.of(topic.name))]
    return "\n".join(parts) + "\n"


def _summary(topic: Topic, figures: Sequence[Figure]) -> tuple[str, ...]:
    near = worst(figures)
    said = (
        ""
        if near is None
        else (f"{off_shown(near)} of {tolerance_shown(near)} allowed: {near.claim}")
    )
    differ = sum(1 for figure in figures if figure.disagrees)
    return f"[{topic.name}](#{topic.name})", topic.about, str(len(figures)), str(differ), said


def _topic(topic: Topic, figures: Sequence[Figure]) -> str:
    head = ("claim", "theirs", "ours", "off", "tolerance", "")
    body = [
        (
            figure.claim,
            theirs_shown(figure),
            shown(figure.ours, figure.unit),
            off_shown(figure),
            tolerance_shown(figure),
            "differs" if figure.disagrees else "",
        )
        for figure in figures
    ]
    said = "\n".join(
        f"- {source_shown(source, obtained)}: {count}"
        for source, obtained, count in sources(figures)
    )
    whys = "\n".join(f"- {why}" for why in dict.fromkeys(figure.why for figure in figures))
    return (
        f"\n## {topic.name}\n\n{topic.about}\n\n{_grid(head, body)}\n\n"
        f"Why the tolerances are so wide:\n\n{whys}\n\nSources:\n\n{said}"
    )


def _grid(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(
        "| " + " | ".join(cell.replace("|", "/") for cell in line) + " |" for line in lines
    )
