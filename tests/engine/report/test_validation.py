"""What the table of checks says in a line, on a page and in its files."""

from __future__ import annotations

from dataclasses import replace

from copperpath.report.validation import Figure, NotChecked, Topic, Validation
from copperpath.report.validation.digest import (
    disagreements,
    off_shown,
    theirs_shown,
    worst,
)
from copperpath.report.validation.page import validation_tables
from copperpath.report.validation.table import written

NEAR = Figure("wires", "near", "ohm", 10.0, 10.1, 1.0, "three digits", "a book", "published")
FAR = replace(NEAR, claim="far", ours=9.2)
OUT = replace(NEAR, claim="out", ours=13.0, disagrees="another rule")
RANGE = replace(NEAR, claim="range", ours=10.9, band="yes")
ALL = Validation(
    (Topic("wires", "copper"),),
    (NEAR, FAR, OUT, RANGE),
    (NotChecked("ampacity", 8, "no rule uses it yet"),),
)


def test_the_worst_figure_is_the_one_that_uses_up_most_of_its_tolerance() -> None:
    """Neither one that differs nor a place in a range counts."""
    assert worst(ALL.figures) == FAR


def test_figures_that_differ_for_one_reason_stand_together() -> None:
    more = replace(OUT, claim="out too")
    (found,) = disagreements([*ALL.figures, more])
    assert found.figures == (OUT, more)


def test_a_figure_says_how_far_it_is_off_and_on_which_side() -> None:
    assert off_shown(NEAR) == "+0.1 ohm"
    assert off_shown(FAR) == "-0.8 ohm"
    assert off_shown(replace(NEAR, ours=10.0)) == "0 ohm"


def test_a_range_is_shown_by_its_ends_and_left_by_the_nearer_one() -> None:
    assert theirs_shown(RANGE) == "9 to 11 ohm"
    assert off_shown(RANGE) == "inside"
    assert off_shown(replace(RANGE, ours=11.5, disagrees="another rule")) == "+0.5 ohm"


def test_the_page_shows_every_figure_and_what_is_left_out() -> None:
    page = validation_tables(ALL)
    for figure in ALL.figures:
        assert f"| {figure.claim} |" in page
    assert "another rule" in page
    assert "no rule uses it yet: ampacity (8)" in page


def test_a_file_has_a_line_for_each_row_below_its_heading() -> None:
    lines = written(Figure, ALL.figures).splitlines()
    assert len(lines) == 5
    assert lines[0].startswith("topic,claim,unit,expected,ours,tolerance")
