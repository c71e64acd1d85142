"""Days drawn at random: their means, their distribution, what they remember, and their spells."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import kstest

from copperpath.plugin_api import BoolArray, FloatArray
from copperpath.site.random_weather import (
    LIGHT_REMEMBERS,
    DayMeans,
    draw_days,
    remembering,
    share_at,
    spells,
    steepness,
)

DAYS = 200
SEEDS = 400


def means(share: FloatArray | float, covered: FloatArray | float = 0.3) -> DayMeans:
    return DayMeans(
        np.broadcast_to(np.float64(share), DAYS),
        np.full(DAYS, 0.07),
        np.zeros(DAYS, dtype=bool),
        (np.broadcast_to(np.float64(covered), DAYS),),
        5.0,
    )


def shares(share: FloatArray | float) -> FloatArray:
    """Of many seeds (seed, day)."""
    return np.array([draw_days(means(share), seed).share for seed in range(SEEDS)])


def covered(often: FloatArray | float) -> BoolArray:
    """Of many seeds (seed, day)."""
    return np.array([draw_days(means(0.5, often), seed).covered for seed in range(SEEDS)])


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9])
def test_the_mean_share_comes_back(share: float) -> None:
    """80 000 days that remember 0.29: about 44 000 free ones, of deviation 0.3 at the most."""
    assert shares(share).mean() == pytest.approx(share, abs=4 * 0.3 / np.sqrt(44_000))


def test_each_month_has_its_own_mean() -> None:
    mean = np.where(np.arange(DAYS) < DAYS // 2, 0.3, 0.6)
    found = shares(mean).mean(axis=0)
    tolerance = 4 * 0.3 / np.sqrt(22_000)
    assert found[: DAYS // 2].mean() == pytest.approx(0.3, abs=tolerance)
    assert found[DAYS // 2 :].mean() == pytest.approx(0.6, abs=tolerance)


@pytest.mark.parametrize(
    ("clearness", "published"),
    [
        # -1.498 + (1.184 z - 27.182 exp(-1.5 z)) / 0.68 with z = 0.68 / (0.73 - clearness).
        (0.30, -2.47),
        (0.40, 0.27),
        (0.50, 3.18),
    ],
)
def test_the_steepness_is_near_the_published_fit(clearness: float, published: float) -> None:
    """D. Herzog's fit of the steepness that Bendt and others ask for, as J. A. Duffie and
    W. A. Beckman, Solar Engineering of Thermal Processes, have it (from memory), for clearness
    between 0.05 and 0.73. It is a fit; a tenth more or less moves the mean by 0.003."""
    found = float(steepness(np.array((clearness - 0.05) / 0.68))) / 0.68
    assert found == pytest.approx(published, abs=0.2)


def test_shares_follow_the_distribution_of_bendt_and_others() -> None:
    """F(K) = (exp(g Kmin) - exp(g K)) / (exp(g Kmin) - exp(g Kmax)), written out here with a
    steepness found by trying, on days far enough apart to be strangers to each other."""
    low, mean = 0.07, 0.6
    tried = np.linspace(0.1, 10.0, 99_001)
    ends = np.exp(tried * low), np.exp(tried)
    of_each = ((low - 1 / tried) * ends[0] - (1 - 1 / tried) * ends[1]) / (ends[0] - ends[1])
    steep = tried[np.argmin(np.abs(of_each - mean))]

    def published(share: FloatArray) -> FloatArray:
        begin, end = np.exp(steep * low), np.exp(steep)
        return np.asarray((begin - np.exp(steep * share)) / (begin - end))

    assert kstest(shares(mean)[:, ::10].ravel(), published).pvalue > 0.01


def test_a_day_remembers_the_one_before_by_the_published_figure() -> None:
    """0.29 for the normal variable; 4 standard errors of 80 000 days."""
    even = np.random.Generator(np.random.PCG64(1)).random(80_000)
    found = remembering(even, LIGHT_REMEMBERS)
    lag_one = np.corrcoef(found[1:], found[:-1])[0, 1]
    assert lag_one == pytest.approx(0.29, abs=4 / np.sqrt(80_000))
    assert found.std() == pytest.approx(1.0, abs=0.02)


@pytest.mark.parametrize("mean", [0.0, 0.02, 0.5, 0.999, 1.0, 1.3])
def test_no_share_leaves_its_bounds(mean: float) -> None:
    ranks = np.array([0.0, 1e-9, 0.5, 1.0 - 1e-9, 1.0])
    found = share_at(ranks, np.full(5, mean), np.full(5, 0.07))
    assert np.all(found >= 0.0)
    assert np.all(found <= max(mean, 1.0))
    assert np.all(np.diff(found) >= 0.0)


def test_a_clear_sky_has_no_spread() -> None:
    assert np.all(shares(1.0) == 1.0)


def test_a_day_whose_share_is_given_keeps_it() -> None:
    given = np.arange(DAYS) == 7
    one = DayMeans(np.full(DAYS, 0.4), np.full(DAYS, 0.07), given, (), 5.0)
    found = draw_days(one, 3).share
    assert found[7] == 0.4
    assert not np.any(found[~given] == 0.4)


def test_panels_are_covered_as_often_as_their_month_says() -> None:
    """Also where the months change faster than a spell ends. Spells of 5 days: 9 days count as
    about one free one."""
    often = np.select([np.arange(DAYS) < 70, np.arange(DAYS) < 140], [0.1, 0.8], 0.05)
    found = covered(often).mean(axis=0)
    for span, share in ((slice(0, 70), 0.1), (slice(70, 140), 0.8), (slice(140, None), 0.05)):
        free = SEEDS * len(found[span]) / 9
        assert found[span].mean() == pytest.approx(share, abs=4 * np.sqrt(share / free))


def test_spells_have_their_mean_length() -> None:
    """A spell of 5 days ends with a chance of a fifth each day."""
    found = covered(0.3)
    goes_on = found[:, 1:][found[:, :-1]].mean()
    assert goes_on == pytest.approx(0.8, abs=4 * np.sqrt(0.16 / found.sum()))


def test_panels_that_are_never_or_always_covered_stay_so() -> None:
    even = np.linspace(0.01, 0.99, 50)
    assert not spells(even, np.zeros(50), 5.0).any()
    assert spells(even, np.ones(50), 5.0).all()


def test_a_seed_draws_the_same_days_everywhere() -> None:
    """By the distribution the first day is where so many are darker as the first number of the
    seed's stream says: numpy's PCG64 begins so on every machine."""
    first = 0.625095466604667
    stream = np.random.Generator(np.random.PCG64(np.random.SeedSequence((7, 0))))
    assert stream.random() == pytest.approx(first, abs=1e-15)
    again = draw_days(means(0.5), 7)
    wanted = share_at(np.array([first]), np.array([0.5]), np.array([0.07]))[0]
    assert again.share[0] == pytest.approx(wanted, abs=1e-12)
    assert np.array_equal(draw_days(means(0.5), 7).share, again.share)
    assert not np.array_equal(draw_days(means(0.5), 8).share, again.share)


def test_light_does_not_know_what_covers_the_panels() -> None:
    """0 within 4 standard errors."""
    light, cover = shares(0.5), covered(0.3)
    assert abs(np.corrcoef(light.ravel(), cover.ravel())[0, 1]) < 4 / np.sqrt(light.size / 9)
