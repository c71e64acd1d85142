"""Panels partly in the shade, against pvlib's curve of each part and a diode worked out here."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from support.device_runs import amps_into, imbalance, solved_by_both, volts_at
from support.panel_curve import panel_amps
from support.sample_devices import law_at, plain_site, settled

from copperpath.plugin_api import Mount, ParameterProblem
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.sources.shaded_photovoltaic import ShadedPhotovoltaic

LABEL: dict[str, Any] = {
    "power": 100.0,
    "vmp": 18.3,
    "imp": 5.46,
    "voc": 22.4,
    "isc": 5.83,
    "mount": Mount(30.0, 180.0),
}
SITE = """station "Copse" {
    place 46.6 N, 10.3 E, 800 m
    starts 2026-06-19 05:00 +01:00
    lasts 14 h
    sky clear
    air 15 degC .. 15 degC
}
"""
REST = """converter mppt : mppt_charger { output_limit 20 A; max_input 100 V }
storage pack : lfp { capacity 100 Ah; charge 30 % }
cable sun -> mppt.panel { length 1 m; wire 4 mm2 }
cable mppt.battery -> pack { length 1 m; wire 4 mm2; fuse 25 A at pack }
"""


def sun(model: str, extra: str = "") -> str:
    words = "power 100 W; vmp 18.3 V; imp 5.46 A; voc 22.4 V; isc 5.83 A; mount 30 deg, south"
    return SITE + f"source sun : {model} {{ {words}; {extra} }}\n" + REST


def drives_of(values: dict[str, Any], light: float) -> dict[str, float]:
    made = ShadedPhotovoltaic.drive(plain_site(20.0, light), values)
    return {name: float(made[name][0]) for name in ShadedPhotovoltaic.drives}


def volts_of(values: dict[str, Any], light: float, amps: float) -> float:
    """Volts of the string at a current: pvlib's curve of the lit part, and the dark part beside
    its bypass diodes, whose share of the current is found by halving."""
    from pvlib.pvsystem import i_from_v, v_from_i

    d = drives_of(values, light)

    def part(share: float, left: float) -> dict[str, float]:
        return {
            "photocurrent": d["photocurrent"] * left,
            "saturation_current": d["saturation"],
            "resistance_series": d["series"] * share,
            "resistance_shunt": share / max(d["shunt"] * left, 1e-12),
            "nNsVth": d["slope"] * share,
        }

    dark, count = part(values["dark_share"], d["left"]), values["shaded_groups"]
    saturation = values["photocurrent_25"] / np.expm1(values["bypass_drop"] / 0.027)
    low, high = -1.0 * count, 30.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        bypass = saturation * np.expm1(-middle / (0.027 * count))
        carried = float(i_from_v(middle, **dark)) + bypass
        low, high = (middle, high) if carried > amps else (low, middle)
    return float(v_from_i(amps, **part(values["lit_share"], 1.0))) + middle


def amps_of(values: dict[str, Any], light: float, volts: float) -> float:
    """The current of the same at a voltage, by halving."""
    low, high = -0.1, 1.2 * values["photocurrent_25"]
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if volts_of(values, light, middle) > volts else (low, middle)
    return middle


def laws_amps(values: dict[str, Any], light: float, volts: float) -> float:
    """What the law gives at a voltage, its private nodes found by scipy."""
    from scipy.optimize import root

    d = list(drives_of(values, light).values())

    def left(inner: np.ndarray) -> tuple[float, ...]:
        return law_at(ShadedPhotovoltaic, values, (volts, *inner), (), d)[1:]

    for between in (-0.4, 0.5 * volts, 0.0, 5.0):
        found = root(left, (volts + 0.3, between, between + 0.3), tol=1e-13)
        if np.max(np.abs(left(found.x))) < 1e-7:
            return -law_at(ShadedPhotovoltaic, values, (volts, *found.x), (), d)[0]
    raise AssertionError(f"no balance at {volts} V")


@pytest.mark.parametrize("left", [0.0, 0.3, 0.8])
@pytest.mark.parametrize("volts", [3.0, 8.0, 12.0, 18.0])
def test_the_string_has_the_current_of_its_two_parts_joined(left: float, volts: float) -> None:
    values = settled(ShadedPhotovoltaic, **LABEL, shaded_groups=1.0, shaded_light=left)
    expected = amps_of(values, 900.0, volts)
    assert laws_amps(values, 900.0, volts) == pytest.approx(expected, rel=1e-5, abs=1e-5)


def test_without_any_light_lost_it_is_the_plain_panel() -> None:
    values = settled(ShadedPhotovoltaic, **LABEL, shaded_groups=1.0, shaded_light=1.0)
    plain = settled(Photovoltaic, **LABEL)
    amps = panel_amps(Photovoltaic.drive(plain_site(20.0, 800.0), plain), np.array([17.0]))
    assert laws_amps(values, 800.0, 17.0) == pytest.approx(float(amps[0]), rel=1e-6)


def test_a_dark_group_of_two_leaves_half_the_voltage_less_a_diode_at_the_same_current() -> None:
    values = settled(ShadedPhotovoltaic, **LABEL, shaded_groups=1.0)
    plain = settled(Photovoltaic, **LABEL)
    whole = panel_amps(Photovoltaic.drive(plain_site(20.0, 800.0), plain), np.array([18.0]))
    assert laws_amps(values, 800.0, 9.0 - 0.44) == pytest.approx(float(whole[0]), rel=0.02)


def test_half_the_light_on_one_group_makes_two_humps_of_power() -> None:
    values = settled(ShadedPhotovoltaic, **LABEL, shaded_groups=1.0, shaded_light=0.5)
    power = [volts * laws_amps(values, 1000.0, volts) for volts in np.arange(4.0, 21.0, 0.5)]
    turns = np.diff(np.sign(np.diff(power)))
    assert np.count_nonzero(turns < 0) == 2


def test_without_bypass_a_dark_group_stops_the_string() -> None:
    values = settled(ShadedPhotovoltaic, **LABEL, shaded_groups=1.0, bypass="none")
    assert abs(laws_amps(values, 1000.0, 5.0)) < 0.02


def test_all_groups_in_the_shade_are_refused_with_a_remedy() -> None:
    with pytest.raises(ParameterProblem) as caught:
        settled(ShadedPhotovoltaic, **LABEL, shaded_groups=2.0)
    assert caught.value.parameter == "shaded_groups"
    assert "derate" in caught.value.help


def test_dirt_and_creases_take_their_shares_of_the_light_one_after_the_other() -> None:
    plain = settled(Photovoltaic, **LABEL, efficiency=0.5, derate=0.8)
    dirty = settled(Photovoltaic, **LABEL, efficiency=0.5, derate=0.8, soiling=0.1, creases=0.05)
    site = plain_site(20.0, 800.0)
    one, other = (Photovoltaic.drive(site, each)["photocurrent"] for each in (dirty, plain))
    assert one == pytest.approx(0.9 * 0.95 * other, rel=1e-12)


@pytest.mark.parametrize(("left", "low", "high"), [("15 %", 6.0, 10.0), ("80 %", 15.0, 20.0)])
def test_a_controller_finds_the_higher_of_the_two_humps(left: str, low: float, high: float) -> None:
    """With 15 % left that of the lit half, with 80 % that of the whole string."""
    text = sun("shaded_photovoltaic", f"shaded_groups 1; shaded_light {left}")
    run = solved_by_both(text, 1800.0)
    noon = int(np.argmin(amps_into(run, "sun")))
    assert low < volts_at(run, "sun", "out")[noon] < high
    assert imbalance(run) < 1e-6


def test_outside_the_hours_of_its_shade_it_gives_what_the_plain_panel_gives() -> None:
    hours = sun("shaded_photovoltaic", "shaded_groups 1; shaded 14:00 to 17:00")
    shaded, plain = solved_by_both(hours, 1800.0), solved_by_both(sun("photovoltaic"), 1800.0)
    one, other = (amps_into(run, "sun") * volts_at(run, "sun", "out") for run in (shaded, plain))
    assert one[6:17] == pytest.approx(other[6:17], rel=1e-3)
    assert abs(one[20]) < 0.6 * abs(other[20])
