"""The picture of the sun's table has the table's figures in it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
from support.pictures import like_the_kept_one
from support.runs import station_from_text
from support.small_station import LAMP, LAMP_LEAD, PANEL, small_text

from copperpath.drawing.page import write_picture
from copperpath.drawing.sun_picture import draw_sun, drawn_panels
from copperpath.report.sun_words import sunny_hours, two_figures
from copperpath.study.sun_yield import TOGETHER, SunTable, sun_table

GOLDEN = Path(__file__).parent / "golden"


@cache
def table(day: date | None = None) -> SunTable:
    """Of a small station whose sky is half of clear."""
    text = small_text(PANEL + LAMP + LAMP_LEAD, sky="50 % of clear")
    return sun_table(station_from_text(text), day)


def test_each_cell_has_the_figure_of_its_hour_and_month() -> None:
    figure = draw_sun(table())
    hours = sunny_hours(table())
    for axes, sky in zip(figure.axes, table().skies, strict=True):
        cells = {each.get_gid(): each.get_text() for each in axes.texts if each.get_gid()}
        amps = table().panels[0].amps[sky]
        assert len(cells) == 12 * len(hours)
        for row, hour in enumerate(hours):
            for month in range(12):
                assert cells[f"amps {row} {month}"] == two_figures(amps[month, hour])


def test_the_more_amps_the_darker_is_a_cell() -> None:
    image = draw_sun(table()).axes[0].images[0].get_array()
    assert image is not None
    amps = table().panels[0].amps["clear"][:, sunny_hours(table())].T
    assert np.unravel_index(np.argmin(image), image.shape) == np.unravel_index(
        np.argmax(amps), amps.shape
    )


def test_of_many_panels_all_together_are_drawn_first() -> None:
    each = table().panels[0]
    many = [replace(each, names=(f"p{k}",)) for k in range(9)]
    both = replace(each, names=(TOGETHER,), sun_hours=None)
    found = replace(table(), panels=(*many, both))
    assert [panel.names[0] for panel in drawn_panels(found)] == [TOGETHER, "p0", "p1", "p2"]
    assert "6 more panels are left out" in " ".join(t.get_text() for t in draw_sun(found).texts)


def test_a_day_is_a_curve_for_each_sky() -> None:
    day = date(2026, 6, 20)
    (axes,) = draw_sun(table(day)).axes
    for sky in table(day).skies:
        (curve,) = [each for each in axes.patches if each.get_gid() == sky]
        assert np.array_equal(curve.get_data().values, table(day).panels[0].amps[sky][0])


def test_the_picture_looks_like_the_one_that_was_looked_at(tmp_path: Path) -> None:
    write_picture(draw_sun(table()), tmp_path / "sun.png")
    assert like_the_kept_one(tmp_path / "sun.png", GOLDEN / "sun.png")
