"""Many steps in few pieces: nothing that stands out is lost."""

from __future__ import annotations

import numpy as np

from copperpath.drawing.thinning import DAY_S, MOST_PIECES, gather

MINUTES = 60.0 * np.arange(3 * 1440 + 1.0)


def test_a_short_run_is_drawn_step_by_step() -> None:
    edges = np.array([0.0, 60.0, 90.0, 120.0])
    pieces = gather(edges, 0.0)
    assert not pieces.thinned
    assert pieces.edges_s.tolist() == edges.tolist()
    assert pieces.mean(np.array([1.0, 2.0, 3.0])).tolist() == [1.0, 2.0, 3.0]


def test_three_days_of_minutes_fit_on_the_page() -> None:
    pieces = gather(MINUTES, 8 * 3600.0)
    assert 300 < len(pieces.first) <= MOST_PIECES
    assert pieces.edges_s[0] == 0.0
    assert pieces.edges_s[-1] == MINUTES[-1]


def test_a_dip_of_one_minute_is_kept() -> None:
    volts = np.full(3 * 1440, 13.0)
    volts[2001] = 9.5
    assert gather(MINUTES, 0.0).least(volts).min() == 9.5


def test_a_peak_of_one_minute_is_kept() -> None:
    volts = np.full(3 * 1440, 13.0)
    volts[2001] = 14.9
    assert gather(MINUTES, 0.0).most(volts).max() == 14.9


def test_the_energy_under_a_power_is_the_same_when_gathered() -> None:
    power = np.abs(np.sin(0.01 * MINUTES[:-1] / 60.0)) * 40.0
    pieces = gather(MINUTES, 3600.0 * 5.3)
    gathered = float(np.sum(pieces.mean(power) * np.diff(pieces.edges_s)))
    assert abs(gathered / float(np.sum(power * 60.0)) - 1.0) < 1e-12


def test_a_step_without_a_figure_does_not_hide_the_others() -> None:
    power = np.full(3 * 1440, 7.0)
    power[100] = np.nan
    assert np.all(gather(MINUTES, 0.0).mean(power) == 7.0)


def test_a_year_is_gathered_by_days_that_begin_at_midnight() -> None:
    edges = 3600.0 * np.arange(365 * 24 + 1.0)
    pieces = gather(edges, 6 * 3600.0)
    assert pieces.daily
    inner = (pieces.edges_s[1:-1] + 6 * 3600.0) % DAY_S
    assert np.all(inner == 0.0)
