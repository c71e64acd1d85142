"""Resistance towards empty, what a board takes, how the kinds of lead acid differ."""

from __future__ import annotations

import pytest
from support.sample_devices import law_at, settled, signals_at

from copperpath.plugin_api import Model
from copperpath_plugins.storage.lead_acid import LeadAcid
from copperpath_plugins.storage.lfp import LithiumIronPhosphate
from copperpath_plugins.storage.lithium_ion import LithiumIon
from copperpath_plugins.storage.nickel_metal_hydride import NickelMetalHydride

AMPERE_HOUR = 3600.0
WARM_K = 298.15
PACK_STATE = (WARM_K, 0.0, 0.0, 0.0)
STORES: tuple[tuple[type[Model], dict[str, float], float, tuple[float, ...]], ...] = (
    (LithiumIronPhosphate, {"capacity": 12 * AMPERE_HOUR}, 13.0, PACK_STATE),
    (LithiumIon, {"cells": 3.0, "capacity": 12 * AMPERE_HOUR}, 3 * 3.5814, PACK_STATE),
    (NickelMetalHydride, {"cells": 10.0, "capacity": 2 * AMPERE_HOUR}, 12.3333, (WARM_K,)),
)


@pytest.mark.parametrize(("model", "given", "rest_v", "more"), STORES, ids=lambda v: str(v)[:24])
def test_resistance_grows_below_thirty_percent_up_to_what_the_file_says(model, given, rest_v, more):
    """At 15 % of charge half of the way: 1 + (3 - 1) / 2 times as large."""

    def ohm(charge: float, **other: float) -> float:
        values = settled(model, **given, **other, resistance=0.1, available=1.0)
        amps = [
            law_at(model, values, (volts,), (charge, *more), (WARM_K,))[0]
            for volts in (rest_v - 2.0, rest_v - 1.9)
        ]
        return 0.1 / (amps[1] - amps[0])

    assert ohm(0.30, empty_resistance=3.0) == pytest.approx(0.1)
    assert ohm(0.15, empty_resistance=3.0) == pytest.approx(0.2)
    assert ohm(0.15, empty_resistance=1.0) == pytest.approx(0.1)


def test_an_emptier_lead_acid_battery_has_more_resistance_and_half_as_much_again_at_the_end():
    values = settled(LeadAcid, capacity=100 * AMPERE_HOUR, resistance=0.01, available=1.0)

    def ohm(charge: float) -> float:
        states = (charge, 0.0, WARM_K)
        amps = [law_at(LeadAcid, values, (v,), states, (WARM_K,))[0] for v in (10.0, 10.1)]
        return 0.1 / (amps[1] - amps[0])

    assert ohm(0.9) == pytest.approx(0.010)
    assert ohm(0.15) == pytest.approx(0.0125)


@pytest.mark.parametrize(
    ("kind", "hours"), [("flooded", 1.0), ("agm", 2.0 / 3.0), ("gel", 4.0 / 3.0)]
)
def test_at_2_4_volts_a_cell_each_kind_takes_what_it_lacks_over_its_own_time(kind, hours):
    """0.3 V a cell above rest; a small resistance beside the acceptance is left out of the sum."""
    values = settled(LeadAcid, capacity=100 * AMPERE_HOUR, kind=kind, resistance=1e-5)
    rest = values["full_voltage"]
    near_full = 0.99
    amps = law_at(LeadAcid, values, (rest + 1.8,), (near_full, 0.0, WARM_K), (WARM_K,))[0]
    lacking_ah = (1.0 - near_full) * values["most_charge"] / AMPERE_HOUR
    assert amps == pytest.approx(lacking_ah / hours, rel=0.02)


def test_what_the_board_takes_empties_the_cells_until_it_locks():
    """5 mA for 30 days are 3.6 Ah."""
    values = settled(LithiumIronPhosphate, capacity=12 * AMPERE_HOUR, board_current=0.005)

    def rate(volts: float, charge: float, locked: float) -> float:
        states = (charge, WARM_K, 0.0, 0.0, locked)
        return signals_at(LithiumIronPhosphate, values, (volts,), states, (WARM_K,))[0]

    assert rate(13.2, 0.6, 0.0) * 12.0 * 30 * 86_400 == pytest.approx(-3.6)
    assert rate(0.0, 0.6, 1.0) == 0.0
    assert rate(10.0, 0.0, 0.0) == 0.0
