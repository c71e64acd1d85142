"""The screens of `copperpath validation`."""

from __future__ import annotations

import json
from dataclasses import asdict

from copperpath.report.layout import Column, paragraph, table
from copperpath.report.validation.digest import (
    by_reason,
    disagreements,
    furthest,
    number_shown,
    off_shown,
    source_shown,
    sources,
    theirs_shown,
    tolerance_shown,
    worst,
)
from copperpath.report.validation.table import Figure, Topic, Validation

SUMMARY = (
    Column("topic", right=False),
    Column("checked"),
    Column("differ"),
    Column("furthest off"),
    Column("tolerance"),
)
ROWS = (
    Column("  ", right=False),
    Column("theirs"),
    Column("ours"),
    Column("off"),
    Column("tolerance"),
    Column("", right=False),
)
DIFFERS = "!"


def validation_screen(found: Validation) -> str:
    """Every topic in a line, what disagrees and why, and what is not checked."""
    differ = sum(1 for figure in found.figures if figure.disagrees)
    lines = paragraph(
        f"{len(found.figures)} figures of others beside ours; {len(found.figures) - differ} agree "
        f"within their tolerance, {differ} do not.",
        indent="",
    )
    lines += ["", *table(SUMMARY, [_summary(topic, found) for topic in found.topics]), ""]
    lines += ["What differs, and why"]
    for each in disagreements(found.figures):
        far = furthest(each.figures)
        count = f"{len(each.figures)} figure{'s' if len(each.figures) > 1 else ''}"
        text = f"{each.topic}, {count}, up to {off_shown(far)} ({far.claim}): {each.reason}"
        lines += paragraph(text, hanging="    ")
    lines += ["", "Published, and not checked"]
    for reason, left in by_reason(found.not_checked):
        rows = sum(each.rows for each in left)
        tables = ", ".join(dict.fromkeys(each.table for each in left))
        count = f"{rows} row{'s' if rows > 1 else ''}"
        lines += paragraph(f"{count} ({tables}): {reason}", hanging="    ")
    lines += ["", "`copperpath validation --topic NAME` shows every figure and its source."]
    return "\n".join(lines) + "\n"


def _summary(topic: Topic, found: Validation) -> tuple[str, ...]:
    figures = found.of(topic.name)
    differ = sum(1 for figure in figures if figure.disagrees)
    near = worst(figures)
    return (
        topic.name,
        str(len(figures)),
        str(differ) if differ else "-",
        off_shown(near) if near else "-",
        tolerance_shown(near) if near else "-",
    )


def topic_screen(topic: Topic, figures: tuple[Figure, ...]) -> str:
    """Every figure of a topic, why its tolerance is what it is, and where it comes from."""
    lines = [*paragraph(f"{topic.name}: {topic.about}", indent=""), ""]
    heading, *rows = table(ROWS, [_row(figure) for figure in figures])
    lines += [heading]
    for figure, row in zip(figures, rows, strict=True):
        lines += [*paragraph(figure.claim), row]
    if any(figure.disagrees for figure in figures):
        lines += ["", f"{DIFFERS} lies outside its tolerance"]
        for each in disagreements(figures):
            lines += paragraph(f"{len(each.figures)}: {each.reason}", hanging="    ")
    lines += ["", "Why the tolerances are so wide"]
    for why in dict.fromkeys(figure.why for figure in figures):
        lines += paragraph(why, hanging="    ")
    lines += ["", "Sources"]
    for source, obtained, count in sources(figures):
        lines += paragraph(f"{count}: {source_shown(source, obtained)}", hanging="    ")
    return "\n".join(lines) + "\n"


def _row(figure: Figure) -> tuple[str, ...]:
    return (
        "",
        theirs_shown(figure),
        number_shown(figure.ours),
        off_shown(figure).removesuffix(figure.unit).strip(),
        "" if figure.band else f"{figure.tolerance:.2g}",
        DIFFERS if figure.disagrees else "",
    )


def validation_json(found: Validation, topic: str | None) -> str:
    """The whole table, or one topic of it, for programs."""
    figures = found.figures if topic is None else found.of(topic)
    shown_topics = [each for each in found.topics if topic in (None, each.name)]
    data = {
        "topics": [asdict(each) for each in shown_topics],
        "figures": [
            asdict(figure) | {"off": figure.off, "agrees": not figure.disagrees}
            for figure in figures
        ],
    }
    if topic is None:
        data["not_checked"] = [asdict(each) for each in found.not_checked]
    return json.dumps(data, indent=2, ensure_ascii=False) + "\n"
