"""What is said of a station names the file and the line that it speaks of."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from support.building import SITE, station_of

from copperpath.network.checks import check_network
from copperpath.pipeline import run
from copperpath.report.check_screen import check_screen
from copperpath.report.json import check_json, run_tree
from copperpath.report.run_screen import run_screen
from copperpath.station import Station

LAMPS = """# lamps, and what is asked of them
load lamp : steady { power 2 W }
cable pack -> lamp { length 1 m; wire 1.5 mm2 }
bond lamp to chassis
require lamp.voltage >= 10 V
"""
MAIN = (
    'include "lamps.station"\n'
    + SITE
    + """storage pack : lfp { capacity 12 Ah }
load torch : steady { power 2 .. 3 W }
cable pack -> torch { length 1 m; wire 1.5 mm2 }
require torch.voltage >= 10 V
"""
)


@pytest.fixture
def station(tmp_path: Path) -> Station:
    (tmp_path / "lamps.station").write_text(LAMPS, encoding="utf-8")
    return station_of(MAIN, tmp_path)


def test_a_finding_of_an_included_file_names_that_file(station: Station) -> None:
    screen = " ".join(check_screen(station, check_network(station)).split())
    assert "(line 3 of lamps.station)" in screen


def test_a_finding_of_the_main_file_names_the_line_alone(station: Station) -> None:
    screen = " ".join(check_screen(station, check_network(station)).split())
    assert "(line 11)" in screen


def test_the_document_of_a_check_names_files_and_lines(station: Station) -> None:
    document = json.loads(check_json("main", (), check_network(station), (), station))
    places = {each["subject"]: (each["file"], each["line"]) for each in document["findings"]}
    assert places["pack -> lamp"] == ("lamps.station", 3)
    assert places["pack -> torch"] == (station.source.name, 11)
    assert (document["bonds"][0]["file"], document["bonds"][0]["line"]) == ("lamps.station", 4)


def test_the_document_of_a_run_names_files_and_lines(station: Station) -> None:
    document = run_tree(run(station, step_s=3600.0))
    asked = {each["text"]: (each["file"], each["line"]) for each in document["requirements"]}
    assert asked == {
        "lamp.voltage >= 10 V": ("lamps.station", 5),
        "torch.voltage >= 10 V": (station.source.name, 12),
    }
    (value,) = document["band"]["values"]
    assert (value["file"], value["line"]) == (station.source.name, 10)


def test_requirements_and_uncertain_values_are_shown_with_their_file(station: Station) -> None:
    screen = " ".join(run_screen(run(station, step_s=3600.0)).split())
    assert "lamp.voltage >= 10 V (line 5 of lamps.station)" in screen
    assert "torch.voltage >= 10 V (line 12)" in screen
    assert "power 2 .. 3 W (line 10)" in screen
