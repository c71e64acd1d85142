"""The example stations have no finding but those that their files let stand, or are made for."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.building import station_of
from support.gallery import found_in_station, told

STATIONS = Path(__file__).parents[3] / "docs" / "stations"
MADE_FOR = {"left_in_the_cold": ["fail cold-battery pack"]}
FILES = [
    pytest.param(path, id=str(path.relative_to(STATIONS).with_suffix("")))
    for path in sorted(STATIONS.rglob("*.station"))
]


@pytest.mark.parametrize("path", FILES)
def test_an_example_station_has_no_finding_but_those_it_is_made_for(path: Path) -> None:
    station = station_of(path.read_text(encoding="utf-8"), path.parent)
    assert [told(each) for each in found_in_station(station)] == MADE_FOR.get(path.stem, [])


def test_on_harbour_hill_a_controller_for_50_volts_is_a_danger_in_the_record_cold() -> None:
    path = STATIONS / "harbour_hill" / "harbour_hill.station"
    text = path.read_text(encoding="utf-8")
    assert text.count("max_input 100 V") == 1
    station = station_of(text.replace("max_input 100 V", "max_input 50 V"), path.parent)
    found = [each for each in found_in_station(station) if each.rule == "cold-panels"]
    assert [told(each) for each in found] == ["danger cold-panels regulator"]
    # 2 x 24.6 V, 27 K below 25 degC at -0.29 %/K.
    assert found[0].value == pytest.approx(2.0 * 24.6 * (1.0 + 0.0029 * 27.0))
    assert found[0].limit == 50.0
