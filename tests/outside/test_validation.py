"""Figures of others beside ours: `checks/` says what is held against what, one record a figure.

The table that comes along with copperpath is made from the same records.
`COPPERPATH_UPDATE_VALIDATION=1 pytest -n 0 tests/outside/test_validation.py` takes it anew; read
the difference before committing it.
"""

from __future__ import annotations

import os
from collections import Counter
from importlib.resources import files

import pytest
from outside.checks.every_check import TOPICS, about, records_of
from outside.checks.not_checked import LEFT
from outside.checks.record import OBTAINED
from support.outside_data import FOLDER, rows_of

from copperpath.report.validation.table import (
    NAMES,
    PACKAGE,
    Figure,
    NotChecked,
    Topic,
    read_validation,
    written,
)

UPDATE = bool(os.environ.get("COPPERPATH_UPDATE_VALIDATION"))
OWN = {"netlists.csv"}
"""Made by us, not published."""


def not_checked() -> list[NotChecked]:
    """What is left out, as the table says it."""
    return [
        NotChecked(
            left.file.removesuffix(".csv"), len(left.rows or rows_of(left.file)), left.reason
        )
        for left in LEFT
    ]


def update() -> None:
    """Write the table anew."""
    figures = [r.figure(topic) for topic in TOPICS for r in records_of(topic).values()]
    kept = {
        Topic: [Topic(topic, about(topic)) for topic in TOPICS],
        Figure: figures,
        NotChecked: not_checked(),
    }
    for kind, rows in kept.items():
        file = files(PACKAGE) / NAMES[kind]
        file.write_text(written(kind, rows), encoding="utf-8")


if UPDATE:
    update()
TABLE = read_validation()


@pytest.mark.parametrize("figure", TABLE.figures, ids=lambda f: f"{f.topic}: {f.claim}")
def test_a_figure_is_as_near_as_it_is_said_to_be(figure: Figure) -> None:
    """Inside its tolerance; or, where the record says that it differs, outside it and no more
    than is said."""
    record = records_of(figure.topic)[figure.claim]
    assert record.verdict() == ""
    assert record.obtained in OBTAINED


@pytest.mark.parametrize("topic", TOPICS)
def test_the_table_that_comes_along_is_what_the_checks_find(topic: str) -> None:
    """Releases of the numerical libraries may differ in the last digits."""
    now = [record.figure(topic) for record in records_of(topic).values()]
    kept = TABLE.of(topic)
    assert [each.claim for each in now] == [each.claim for each in kept]
    for made, shown in zip(now, kept, strict=True):
        near = {"rel": 1e-4, "abs": 0.01 * made.tolerance}
        assert shown.ours == pytest.approx(made.ours, **near), made.claim
        assert shown.expected == pytest.approx(made.expected, **near), made.claim
        assert shown.tolerance == pytest.approx(made.tolerance, rel=1e-4), made.claim
        words = ("unit", "why", "source", "obtained", "disagrees", "band")
        assert all(getattr(made, word) == getattr(shown, word) for word in words), made.claim


def test_the_table_names_every_topic_and_what_is_left_out() -> None:
    assert TABLE.topics == tuple(Topic(topic, about(topic)) for topic in TOPICS)
    assert TABLE.not_checked == tuple(not_checked())


@pytest.mark.parametrize("file", sorted({f.name for f in FOLDER.glob("*.csv")} - OWN))
def test_every_published_row_is_checked_or_left_out_for_a_reason(file: str) -> None:
    checked = {
        row
        for topic in TOPICS
        for record in records_of(topic).values()
        for name, row in record.rows
        if name == file
    }
    everything = set(range(1, len(rows_of(file)) + 1))
    left = Counter(row for each in LEFT if each.file == file for row in (each.rows or everything))
    assert max(left.values(), default=1) == 1
    assert not checked & set(left), "left out although a check uses it"
    assert checked | set(left) == everything
