"""Many random seasons of one station."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from support.runs import station_from_text

from copperpath.record.figures import powered_steps
from copperpath.record.run import Run, make_run
from copperpath.station import Station
from copperpath.study.executors import choose_executor
from copperpath.study.lay_out import lay_out
from copperpath.study.seasons import ManySeasons, percentiles, run_seasons, share_of
from copperpath.study.survival import survive

TEXT = """
station "A hut in November" {
    place      46.6 N, 10.3 E, 1800 m
    starts     2026-11-20 00:00 +01:00
    lasts      20 days
    sky        50 % of clear
    rime       30 %
    air        -3 degC .. 3 degC
    air_spread 4 K
}
source    panel   : photovoltaic {
    power 50 W; voc 22 V; vmp 18 V; imp 2.78 A; isc 3 A; mount 70 deg, south
}
converter charger : mppt_charger { max_input 50 V; output_limit 10 A }
storage   pack    : lead_acid    { capacity 60 Ah; reserve 20 % }
load      lamp    : steady       { current 0.4 A; works 11 V .. 15 V }
cable panel           -> charger.panel { length 3 m; wire 4 mm2 }
cable charger.battery -> pack          { length 1 m; wire 4 mm2 }
cable pack            -> lamp          { length 1 m; wire 1.5 mm2 }
"""
COUNT = 12
HOUR = 3600.0


@lru_cache(maxsize=1)
def hut() -> Station:
    return station_from_text(TEXT)


def seasons_of(
    station: Station, seed: int = 1, executor: str = "", count: int = COUNT
) -> ManySeasons:
    return run_seasons(
        station,
        case="base",
        count=count,
        seed=seed,
        step_s=HOUR,
        executor=choose_executor(executor),
    )


@lru_cache(maxsize=1)
def hut_seasons() -> ManySeasons:
    return seasons_of(hut())


def run_of(station: Station, seed: int) -> Run:
    own = replace(station, site=replace(station.site, random_days=True, seed=seed))
    problem, _ = lay_out(own, HOUR)
    return make_run(problem, choose_executor().solve(problem))


def test_some_seasons_last_and_some_do_not() -> None:
    """Else the other tests here would say little."""
    found = hut_seasons()
    assert 0 < found.powered.count < COUNT
    assert len({each.lowest_charge["pack"] for each in found.seasons}) == COUNT


@pytest.mark.parametrize("seed", [2, 7])
def test_a_season_comes_to_what_a_run_with_its_seed_comes_to(seed: int) -> None:
    season = hut_seasons().seasons[seed - 1]
    run = run_of(hut(), seed)
    survival = survive(run)
    steps = powered_steps(run, hut().device("lamp"))
    charge = run.state("pack", "charge")
    assert steps is not None
    assert charge is not None
    assert season.seed == seed
    assert season.lasts is (survival.end_step is None)
    assert season.powered is (survival.short_step is None)
    assert season.lowest_charge["pack"] == pytest.approx(charge.min(), abs=1e-6)
    assert season.short_s["lamp"] == pytest.approx(HOUR * np.sum(steps[0] & ~steps[1]))
    if survival.short_at is not None:
        assert season.first_short is not None
        assert abs((season.first_short - run.when(survival.short_at)).total_seconds()) < 60.0


def test_the_same_seeds_give_the_same_seasons_alone_or_among_others() -> None:
    assert seasons_of(hut(), seed=4, count=3).seasons == hut_seasons().seasons[3:6]


def test_the_twin_in_numpy_comes_to_the_same() -> None:
    (ours,) = seasons_of(hut(), seed=2, executor="twin", count=1).seasons
    other = hut_seasons().seasons[1]
    assert ours.powered is other.powered
    assert ours.lowest_charge["pack"] == pytest.approx(other.lowest_charge["pack"], abs=1e-3)


def test_a_larger_panel_and_battery_last_in_more_seasons() -> None:
    text = TEXT.replace("power 50 W", "power 200 W").replace("imp 2.78 A", "imp 11.1 A")
    text = text.replace("isc 3 A", "isc 12 A").replace("60 Ah", "400 Ah")
    text = text.replace("output_limit 10 A", "output_limit 20 A")
    assert seasons_of(station_from_text(text)).powered.count > hut_seasons().powered.count


def test_months_count_every_season_that_is_ever_short_once() -> None:
    found = hut_seasons()
    short = [one for one, _ in found.months().values()]
    assert sum(short) == COUNT - found.powered.count
    assert list(found.months()) == [month for month in (11, 12) if month in found.months()]


def test_a_season_without_a_short_load_has_no_hours_without_power() -> None:
    for each in hut_seasons().seasons:
        assert (sum(each.short_s.values()) > 0.0) is (each.first_short is not None)


def test_the_worst_season_is_longest_without_power() -> None:
    found = hut_seasons()
    assert found.worst.short_s["lamp"] == max(each.short_s["lamp"] for each in found.seasons)


def test_it_is_said_how_the_weather_was_drawn() -> None:
    words = hut_seasons().words
    assert "Bendt" in words["weather"]
    assert "rime on whole days, in spells of 5 days" in words["weather"]
    assert words["seeds"] == "1 to 12"
    assert words["step"].startswith("3600 s")


def test_progress_says_how_many_are_done() -> None:
    said: list[str] = []
    run_seasons(
        hut(),
        case="base",
        count=2,
        seed=1,
        step_s=HOUR,
        executor=choose_executor(),
        say=said.append,
    )
    assert said[-1] == f"{'#' * 30} 2 of 2 seasons"


@pytest.mark.parametrize(
    ("count", "of", "low", "high"),
    [
        # R. G. Newcombe, Statistics in Medicine 17 (1998) 857, table I, score method.
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_the_uncertainty_of_a_share_is_the_published_one(
    count: int, of: int, low: float, high: float
) -> None:
    share = share_of(count, of)
    assert share.low == pytest.approx(low, abs=6e-5)
    assert share.high == pytest.approx(high, abs=6e-5)


def test_percentiles_lie_on_straight_lines_between_values() -> None:
    """0 to 100 by ones: each percentile is itself."""
    assert percentiles([float(each) for each in range(101)]).tolist() == [5, 25, 50, 75, 95]
