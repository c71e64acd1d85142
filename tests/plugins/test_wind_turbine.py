"""A small wind turbine: power by the wind, means over Rayleigh's distribution, thin air."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, solved_by_both, volts_at
from support.sample_devices import law_at, plain_site, settled

from copperpath.plugin_api import ParameterProblem
from copperpath_plugins.sources.wind_power import PowerCurve, air_density
from copperpath_plugins.sources.wind_turbine import WindTurbine

CURVE = PowerCurve(rating=400.0, cut_in=3.0, rated_wind=11.0, cut_out=25.0)
SEA = np.array([1.225])


def _steady(wind: float) -> float:
    return float(CURVE.steady(np.array([wind]), SEA)[0])


@pytest.mark.parametrize("wind", [0.0, 2.9, 25.1])
def test_it_gives_nothing_below_cut_in_and_above_cut_out(wind: float) -> None:
    assert _steady(wind) == 0.0


@pytest.mark.parametrize("wind", [11.0, 18.0, 25.0])
def test_it_gives_its_rating_from_rated_wind_to_cut_out(wind: float) -> None:
    assert _steady(wind) == pytest.approx(400.0)


def test_between_them_power_goes_with_the_cube_of_the_wind() -> None:
    assert _steady(7.0) == pytest.approx(400.0 * (343 - 27) / (1331 - 27))


@pytest.mark.parametrize("density", [0.9, 1.225, 1.35])
@pytest.mark.parametrize("mean", [2.0, 4.0, 6.0, 9.0, 20.0])
def test_the_mean_over_gusts_is_the_integral_over_rayleighs_distribution(
    mean: float, density: float
) -> None:
    from scipy.integrate import quad

    air = np.array([density])

    def part(wind: float) -> float:
        a = np.pi / 4.0 / mean**2
        weight = 2.0 * a * wind * np.exp(-a * wind**2)
        return float(weight * CURVE.steady(np.array([wind]), air)[0])

    full = float(CURVE.full_from(air)[0])
    integral = sum(quad(part, *ends)[0] for ends in ((3.0, full), (full, 25.0)))
    assert CURVE.over_gusts(np.array([mean]), air)[0] == pytest.approx(integral, rel=1e-8)


def test_no_wind_at_all_gives_nothing_even_without_a_cut_in() -> None:
    free = PowerCurve(rating=400.0, cut_in=0.0, rated_wind=11.0, cut_out=25.0)
    assert free.over_gusts(np.array([0.0]), SEA)[0] == 0.0


def test_without_limits_gusts_raise_the_mean_of_the_cube_by_6_over_pi() -> None:
    """The energy pattern factor of Rayleigh's distribution, 1.91, in textbooks of wind power."""
    free = PowerCurve(rating=1e6, cut_in=0.0, rated_wind=100.0, cut_out=1000.0)
    mean = free.over_gusts(np.array([5.0]), SEA)[0]
    assert mean == pytest.approx(6.0 / np.pi * free.steady(np.array([5.0]), SEA)[0], rel=1e-9)


@pytest.mark.parametrize(
    ("altitude", "air_k", "density"), [(0.0, 288.15, 1.2250), (1000.0, 281.65, 1.1117)]
)
def test_air_has_the_density_of_the_standard_atmosphere(
    altitude: float, air_k: float, density: float
) -> None:
    """Table of the standard atmosphere, ISO 2533."""
    assert air_density(altitude, np.array([air_k]))[0] == pytest.approx(density, abs=2e-4)


def _watts(**given: Any) -> float:
    values = settled(WindTurbine, rating=400.0, **given)
    return float(WindTurbine.drive(plain_site(15.0, 0.0), values)["watts"][0])


def test_wind_grows_with_the_seventh_root_of_height() -> None:
    """Twice the height: 2^(1/7) = 1.104 times the wind."""
    high = _watts(wind=5.0, hub=20.0, gusts="steady")
    assert high == pytest.approx(_watts(wind=5.0 * 2 ** (1 / 7), gusts="steady"))


def test_thinner_air_gives_less() -> None:
    thin, thick = (_watts(wind=6.0, gusts="steady", altitude=each) for each in (2000.0, 0.0))
    assert thin / thick == pytest.approx(0.785, abs=0.002)


@pytest.mark.parametrize(
    ("changed", "parameter"), [({"rated_wind": 2.0}, "rated_wind"), ({"cut_out": 2.0}, "cut_out")]
)
def test_speeds_out_of_order_are_refused(changed: dict[str, float], parameter: str) -> None:
    with pytest.raises(ParameterProblem) as caught:
        settled(WindTurbine, rating=400.0, wind=5.0, **changed)
    assert caught.value.parameter == parameter


@pytest.mark.parametrize(("volts", "amps"), [(12.0, 10.0), (14.4, 0.0), (14.256, 120.0 / 28.512)])
def test_its_power_is_given_at_the_batterys_voltage_until_the_dump_load_takes_it(
    volts: float, amps: float
) -> None:
    """120 W; the last 2 % below 14.4 V are 0.288 V, and 14.256 V is in their middle."""
    values = settled(WindTurbine, rating=400.0, wind=5.0)
    taken = law_at(WindTurbine, values, (volts,), (), (120.0,))[0]
    assert 1e-4 * volts - taken == pytest.approx(amps, abs=1e-9)


def test_a_station_lives_on_wind_by_the_hour() -> None:
    text = """station "Ridge" {
        place 46.6 N, 10.3 E, 800 m
        starts 2026-06-19 06:00 +01:00
        lasts 24 h
        sky clear
        air 15 degC .. 15 degC
    }
    source mill : wind_turbine {
        rating 200 W; wind 20 km/h; wind_by_hour 0 % from 20:00 to 06:00, otherwise 100 %
    }
    storage pack : lfp { capacity 100 Ah; charge 50 % }
    load rig : steady { current 1 A; works 10.5 V .. 15 V }
    cable mill -> pack { length 5 m; wire 6 mm2; fuse 30 A at pack }
    cable pack -> rig { length 2 m; wire 2.5 mm2; fuse 5 A at pack }
    """
    run = solved_by_both(text, 600.0)
    day, night = -amps_into(run, "mill")[6], -amps_into(run, "mill")[100]
    a = np.pi / 4.0 / (20 / 3.6) ** 2
    winds = np.linspace(0.0, 60.0, 60_001)
    curve = np.where(winds <= 25.0, np.clip((winds**3 - 27) / (1331 - 27), 0, 1), 0.0)
    density = air_density(0.0, np.array([288.15]))[0] / 1.225
    share = float(np.mean(curve * 2 * a * winds * np.exp(-a * winds**2)) * 60.0)
    assert density == pytest.approx(1.0, abs=1e-3)
    assert day * volts_at(run, "mill", "line")[6] == pytest.approx(200.0 * share, rel=2e-3)
    assert abs(night) < 0.01
    assert imbalance(run) < 1e-6
