"""Battery, step-down and charge controller at single points."""

from __future__ import annotations

import math
from typing import Any

import pytest
from support.sample_devices import settled, signals_at

from copperpath.plugin_api import AmbientRule, Model, ParameterProblem
from copperpath.solver.shapes import law_shape
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.step_down import BLEED_S, StepDown
from copperpath_plugins.storage.lfp import LithiumIronPhosphate

PACK = {"capacity": 12 * 3600.0, "resistance": 0.045}
WARM_K, COLD_K = 298.15, 263.15


def _law(
    model: type[Model],
    values: dict[str, Any],
    v: tuple[float, ...],
    x: tuple[float, ...] = (),
    d: tuple[float, ...] = (),
) -> tuple[float, ...]:
    shape = law_shape(model)
    p = shape.p_type(*(values[name.rstrip("_")] for name in shape.p_fields))
    return tuple(
        float(part) for part in model.law(shape.v_type(*v), shape.x_type(*x), shape.d_type(*d), p)
    )


def _pack_amps(
    volts: float,
    charge: float,
    cell_k: float,
    cold: float = 0,
    empty: float = 0,
    locked: float = 0,
) -> float:
    values = settled(LithiumIronPhosphate, **PACK)
    states = (charge, cell_k, cold, empty, locked)
    return _law(LithiumIronPhosphate, values, (volts,), states, (0.0,))[0]


def test_a_battery_gives_current_through_its_resistance():
    assert _pack_amps(13.2 - 0.09, 0.6, WARM_K) == pytest.approx(-2.0)


def test_resistance_is_twice_as_large_at_freezing_point():
    assert _pack_amps(13.2 - 0.09, 0.6, 273.15) == pytest.approx(-1.0)


def test_charging_current_is_limited_and_tapers_to_nothing_at_full():
    assert _pack_amps(14.4, 0.6, WARM_K) == pytest.approx(6.0)
    assert _pack_amps(14.4, 0.975, WARM_K) == pytest.approx(3.0)
    assert _pack_amps(14.4, 1.0, WARM_K) == 0.0


def test_five_minute_steps_never_overfill_a_battery():
    for limit in (3.0, 6.0, 12.0, 24.0):
        values = settled(LithiumIronPhosphate, **PACK, charge_limit=limit)
        charge = 0.5
        for _ in range(300):
            amps = _law(LithiumIronPhosphate, values, (16.0,), (charge, WARM_K, 0, 0, 0), (0.0,))[0]
            charge += amps / PACK["capacity"] * 300.0
            assert charge <= 1.0 + 1e-12


def test_a_cold_battery_refuses_charge_and_still_gives():
    assert _pack_amps(14.4, 0.6, COLD_K) == 0.0
    assert _pack_amps(14.4, 0.6, 274.15, cold=1.0) == 0.0
    assert _pack_amps(12.9, 0.6, COLD_K) < 0.0


def test_an_empty_battery_gives_nothing_and_still_takes():
    assert _pack_amps(12.0, 0.5, WARM_K, empty=1.0) == 0.0
    assert _pack_amps(14.0, 0.5, WARM_K, empty=1.0) > 0.0


def test_cold_raises_the_floor_and_leaves_the_charge_as_it_is():
    """At -10 °C two thirds can be drawn, so a third of charge is out of reach."""
    assert _pack_amps(12.0, 0.33, COLD_K) == 0.0
    assert _pack_amps(12.0, 0.35, COLD_K) < 0.0


def test_the_planned_lowest_charge_counts_reserve_and_cold():
    warm = settled(LithiumIronPhosphate, **PACK, reserve=0.1, available=0.85)
    assert warm["planned_floor"] == pytest.approx(0.15 + 0.1 * 0.85)
    fixed = settled(LithiumIronPhosphate, **PACK, temperature=AmbientRule(fixed_k=273.15))
    assert fixed["planned_floor"] == pytest.approx(0.2)


def test_resistance_follows_capacity_where_it_is_not_given():
    small = settled(LithiumIronPhosphate, capacity=15 * 3600.0)["ohm_warm"]
    large = settled(LithiumIronPhosphate, capacity=100 * 3600.0)["ohm_warm"]
    assert small == pytest.approx(0.045, rel=0.02)
    assert large == pytest.approx(0.012)


def test_a_step_down_holds_its_output_and_takes_power_over_efficiency():
    values = settled(StepDown, output=5.0, output_limit=3.0, input=(9.0, 30.0))
    taken, given = _law(StepDown, values, (12.0, 4.98))
    assert given == pytest.approx(BLEED_S * 4.98 - 1.0)
    assert taken == pytest.approx(4.98 / 0.9 / 12.0 + 0.010)


def test_a_step_down_stops_at_its_limit_and_under_its_input_window():
    values = settled(StepDown, output=5.0, output_limit=3.0, input=(9.0, 30.0))
    assert _law(StepDown, values, (12.0, 2.0))[1] == BLEED_S * 2.0 - 3.0
    assert _law(StepDown, values, (8.75, 2.0))[1] == pytest.approx(BLEED_S * 2.0 - 1.5)
    assert _law(StepDown, values, (8.4, 2.0))[1] == BLEED_S * 2.0
    assert _law(StepDown, values, (12.0, 6.0))[1] == BLEED_S * 6.0


def test_a_step_down_cannot_raise_a_voltage():
    with pytest.raises(ParameterProblem, match="cannot raise"):
        settled(StepDown, output=12.0, output_limit=3.0, input=(9.0, 30.0))


def _charger(volts: float, offer: float, awake: float = 1.0, **given: float) -> tuple[float, ...]:
    values = settled(MpptCharger, output_limit=5.0, max_input=30.0, **given)
    return _law(MpptCharger, values, (volts,), (awake, 0.0, 0.0), (offer,))


def test_a_charger_passes_on_what_the_sun_offers_less_its_loss():
    watts, amps = _charger(13.3, 28.0)
    assert watts == pytest.approx(28.0)
    assert amps == pytest.approx(-28.0 * 0.95 / 13.3 + 0.012)


def test_a_charger_stops_at_its_limit_and_at_its_set_voltage():
    assert _charger(13.3, 200.0)[1] == pytest.approx(-5.0 + 0.012)
    assert _charger(14.36, 200.0)[1] == pytest.approx(-2.0 + 0.012)
    assert _charger(14.5, 200.0) == (0.0, pytest.approx(0.012))


def test_a_sleeping_charger_only_draws_its_idle_current():
    assert _charger(13.3, 28.0, awake=0.0) == (0.0, pytest.approx(0.012))


def test_a_sleeping_charger_asks_for_more_panel_voltage_than_one_at_work():
    shape = law_shape(MpptCharger)
    values = settled(MpptCharger, output_limit=5.0, max_input=30.0)
    p = shape.p_type(*(values[name] for name in shape.p_fields))
    floors = [
        MpptCharger.floor(
            shape.v_type(13.0), shape.x_type(awake, 0.0, 0.0), shape.d_type(math.nan), p
        )
        for awake in (0.0, 1.0)
    ]
    assert floors == [18.0, 14.0]


def _pack_rate(amps: float, cell_k: float, **given: float) -> float:
    """How fast the charge of the pack grows at 60 % [1/s]."""
    values = settled(LithiumIronPhosphate, **PACK, **given)
    volts = 13.2 + 0.045 * amps
    return signals_at(LithiumIronPhosphate, values, (volts,), (0.6, cell_k, 0, 0, 0), (cell_k,))[0]


def test_a_lithium_iron_phosphate_battery_loses_nothing_unless_told():
    assert _pack_rate(2.0, WARM_K) == pytest.approx(2.0 / PACK["capacity"], rel=1e-12)
    assert _pack_rate(0.0, WARM_K) == pytest.approx(0.0, abs=1e-18)


def test_a_share_of_what_goes_into_a_lithium_battery_is_lost_and_none_of_what_comes_out():
    kept = _pack_rate(2.0, WARM_K, efficiency=0.98)
    assert kept == pytest.approx(0.98 * 2.0 / PACK["capacity"])
    assert _pack_rate(-2.0, WARM_K, efficiency=0.98) == pytest.approx(-2.0 / PACK["capacity"])


def test_a_lithium_battery_loses_its_share_in_a_month_and_twice_that_ten_kelvin_warmer():
    """3 % a month of what it holds, 60 %."""
    lost = _pack_rate(0.0, WARM_K, self_discharge=0.03) * 30 * 86400
    assert lost == pytest.approx(-0.03 * 0.6)
    hot = _pack_rate(0.0, WARM_K + 10.0, self_discharge=0.03) * 30 * 86400
    assert hot == pytest.approx(-0.03 * 1.2)
