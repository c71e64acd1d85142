"""Which battery for Hollow Tooth Relay: the mean winter, and winters drawn at random about it."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest

from copperpath.pipeline import load, run
from copperpath.record.record import Record
from copperpath.station import Station
from copperpath.study.executors import choose_executor
from copperpath.study.seasons import ManySeasons, run_seasons

DOCS = Path(__file__).parents[3] / "docs"
FILE = DOCS / "stations" / "hollow_tooth" / "hollow_tooth_winter.station"
HOUR = 3600.0
ROW = re.compile(r"^\| .* \| `(.*?)` \| (\d) days \| (\d+) of 500 .*\| (\d+) of 500 .*\|$", re.M)


@lru_cache(maxsize=1)
def stations() -> dict[str, Station]:
    station = load(FILE).station
    assert station is not None
    return {"base": station} | {case.title: case.station for case in station.cases}


@lru_cache(maxsize=1)
def mean_winter() -> Record:
    return run(stations()["base"], step_s=HOUR, causes_of=())


def winters(case: str, spell_days: int, count: int) -> ManySeasons:
    station = stations()[case]
    site = replace(station.site, cover_spell_s=spell_days * 86_400.0)
    return run_seasons(
        replace(station, site=site),
        case=case,
        count=count,
        seed=1,
        step_s=HOUR,
        executor=choose_executor(),
    )


def test_lithium_left_cold_runs_down_in_december_of_the_mean_winter() -> None:
    """Worked by hand: charging is blocked from December on, 180 Ah last 12 days; the blocking air
    of -6 degC comes a little before the month does."""
    verdict = mean_winter().case("left cold").verdict
    assert verdict.word == "runs down"
    assert verdict.until is not None
    assert (verdict.until.year, verdict.until.month) == (2026, 12)


@pytest.mark.parametrize("case", ["base", "lead-acid"])
def test_warm_lithium_and_lead_acid_last_through_the_mean_winter(case: str) -> None:
    """Worked by hand: the sun of the darkest month is 2.4 times the need, 2.2 with the warmer."""
    assert mean_winter().case(case).verdict.word == "lasts"


def test_lithium_left_cold_lasts_through_none_of_many_winters() -> None:
    found = winters("left cold", 5, 12)
    assert found.lasting.count == 0
    assert found.powered.count == 0


def test_the_longer_the_rime_stays_the_fewer_winters_last() -> None:
    """As often rimed, in spells of two days and of five."""
    assert winters("base", 2, 12).powered.count > winters("base", 5, 12).powered.count


@pytest.mark.long
def test_the_table_of_winters_in_the_pages_is_what_is_found() -> None:
    """To within two winters: one on the edge turns with the last digits of a battery's charge."""
    rows = ROW.findall((DOCS / "examples.md").read_text(encoding="utf-8"))
    assert len(rows) == 5
    for case, spell, lasting, powered in rows:
        found = winters(case, int(spell), 500)
        assert found.lasting.count == pytest.approx(int(lasting), abs=2)
        assert found.powered.count == pytest.approx(int(powered), abs=2)
