"""The pictures in the pages are what the commands draw."""

from __future__ import annotations

from pathlib import Path

from support.pages import ROOT
from support.pictures import like_the_kept_one
from support.runs import HERON_BOG, LARKFELL, record_of, station_from_file

from copperpath.drawing.page import write_picture
from copperpath.drawing.run_picture import draw_run
from copperpath.drawing.sun_picture import draw_sun
from copperpath.study.sun_yield import sun_table

PICTURES = ROOT / "docs" / "pictures"


def test_the_page_shows_the_run_as_it_is_drawn(tmp_path: Path) -> None:
    record = record_of(LARKFELL / "left_in_the_cold.station")
    write_picture(draw_run(record), tmp_path / "run.png")
    assert like_the_kept_one(tmp_path / "run.png", PICTURES / "left_in_the_cold.png")


def test_the_page_shows_the_sun_as_it_is_drawn(tmp_path: Path) -> None:
    write_picture(draw_sun(sun_table(station_from_file(HERON_BOG))), tmp_path / "sun.png")
    assert like_the_kept_one(tmp_path / "sun.png", PICTURES / "heron_bog_sun.png")
