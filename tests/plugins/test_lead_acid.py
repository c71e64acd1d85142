"""The lead-acid battery: its wells, and charge in a run; published warmth and rest voltages are in
`outside/checks/lead_acid.py`."""

from __future__ import annotations

import math

import numpy as np
import pytest
from support.device_runs import amps_into, first_time, imbalance, remembered, solved_by_both
from support.runs import solved, station_from_text
from support.sample_devices import law_at, settled, signals_at
from support.small_station import SITE

from copperpath_plugins.storage.lead_acid import SELF_DISCHARGE, LeadAcid
from copperpath_plugins.storage.two_wells import rated_share, wells_for

HOUR, AMPERE_HOUR = 3600.0, 3600.0
WARM_K = 298.15
REST = (0.0, 0.25, 0.5, 0.75, 1.0), (11.89, 12.06, 12.24, 12.45, 12.65)
LEAD = "cable pack -> lamp { length 0.2 m; wire 25 mm2; fuse 200 A at pack }\n"


def hours_at(amps: float, pack: str) -> float:
    """How long the battery of 100 Ah carries a steady current, in a station, to the step."""
    rest = (
        f"storage pack : lead_acid {{ capacity 100 Ah; temperature 25 degC; {pack} }}\n"
        f"load lamp : steady {{ current {amps} A; works 2 V .. 15 V }}\n" + LEAD
    )
    station = SITE.format(lasts="30 h", sky="clear", more="") + rest
    run = solved(station_from_text(station), 300.0)
    gone = -amps_into(run, "pack") < 0.5 * amps
    assert imbalance(run) < 1e-6
    return first_time(gone) * 300.0 / HOUR


def peukert_hours(amps: float, exponent: float) -> float:
    """t = H (C / (I H))^n for 100 Ah at 20 h."""
    return 20.0 * (100.0 / (amps * 20.0)) ** exponent


def test_at_its_hour_rate_it_gives_its_rated_charge():
    assert hours_at(5.0, "") == pytest.approx(20.0, rel=0.02)
    assert hours_at(10.0, "rated_over 10 h") == pytest.approx(10.0, rel=0.02)


@pytest.mark.parametrize("amps", [8.0, 17.0, 40.0])
@pytest.mark.parametrize(("kind", "exponent"), [("flooded", 1.2), ("agm", 1.1), ("gel", 1.15)])
def test_drawn_faster_it_gives_less_by_peukerts_law(amps, kind, exponent):
    """The wells miss the law by up to 2.8 %; the last 2 % of charge fade, and steps are 5 min."""
    wanted = peukert_hours(amps, exponent)
    assert hours_at(amps, f"kind {kind}") == pytest.approx(wanted, rel=0.05, abs=0.1)


def test_a_published_example_of_peukerts_law_is_met():
    """100 Ah at 20 h, exponent 1.2, drawn at 10 A: 8.7 h (an encyclopaedia's example)."""
    assert hours_at(10.0, "rate_exponent 1.2") == pytest.approx(8.7, rel=0.04)


def test_what_was_bound_comes_back_after_a_rest():
    """Emptied at 40 A and left for ten hours, it gives a good part of what it held back."""
    rest = (
        "storage pack : lead_acid { capacity 100 Ah; temperature 25 degC }\n"
        "load lamp : steady { current 40 A; works 2 V .. 15 V; on 08:00 to 12:00, 20:00 to 23:00 }"
        "\n" + LEAD
    )
    run = solved_by_both(SITE.format(lasts="15 h", sky="clear", more="") + rest, 300.0)
    amps = -amps_into(run, "pack")
    gone = first_time(amps < 20.0)
    assert gone < 2.0 * 12
    assert amps[12 * 12 : 12 * 12 + 3] == pytest.approx(40.0, rel=1e-3)


@pytest.mark.parametrize("step_s", [10.0, 600.0, 3600.0])
def test_the_wells_follow_the_published_solution_whatever_the_step(step_s):
    """Manwell and McGowan's closed form for the available charge under a steady current."""
    values = settled(LeadAcid, capacity=100 * AMPERE_HOUR, self_discharge=0.0)
    c, tau, most = (values[n] for n in ("available_share", "well_tau", "most_charge"))
    charge, gap, amps, steps = 1.0, 0.0, 12.0, round(2 * HOUR / step_s)
    keep = math.exp(-step_s / tau)
    for _ in range(steps):
        ohm = values["ohm_warm"]
        level = charge - (1 - c) * gap
        volts = float(
            np.interp(level, (0, 0.25, 0.5, 0.75, 1), (11.89, 12.06, 12.24, 12.45, 12.65))
        )
        rate, target, _ = signals_at(
            LeadAcid, values, (volts - amps * ohm,), (charge, gap, WARM_K), (WARM_K,)
        )
        charge, gap = charge + step_s * rate, keep * gap + (1 - keep) * target
    k, t = 1.0 / tau, 2 * HOUR
    gone = 1.0 - math.exp(-k * t)
    q1 = c * most * (1 - gone) + (most * k * c - amps) * gone / k
    q1 -= amps * c * (k * t - gone) / k
    assert (charge - (1 - c) * gap) * c * most == pytest.approx(q1, rel=1e-9)


def test_at_144_volts_it_takes_what_it_lacks_in_an_hour():
    """At half charge, 55.97 Ah missing of 111.94: rest voltage 12.24 V, so 2.16 V across the
    resistance and 1.8 V / 55.97 A."""
    values = settled(LeadAcid, capacity=100 * AMPERE_HOUR)
    lacks = 0.5 * values["most_charge"] / AMPERE_HOUR
    assert lacks == pytest.approx(0.5 * 100.0 / 0.8934, rel=1e-3)
    amps = law_at(LeadAcid, values, (14.4,), (0.5, 0.0, WARM_K), (WARM_K,))[0]
    assert amps == pytest.approx(2.16 / (0.005 + 1.8 / lacks), rel=1e-9)


def test_a_full_battery_takes_nothing():
    values = settled(LeadAcid, capacity=100 * AMPERE_HOUR)
    assert law_at(LeadAcid, values, (14.4,), (1.0, 0.0, WARM_K), (WARM_K,)) == (0.0,)


def test_a_share_of_what_goes_in_is_lost():
    values = settled(LeadAcid, capacity=100 * AMPERE_HOUR, efficiency=0.85, self_discharge=0.0)
    state = (0.5, 0.0, WARM_K)
    amps = law_at(LeadAcid, values, (13.0,), state, (WARM_K,))[0]
    rate = signals_at(LeadAcid, values, (13.0,), state, (WARM_K,))[0]
    assert rate == pytest.approx(0.85 * amps / values["most_charge"])


def test_self_discharge_doubles_with_ten_kelvin():
    values = settled(LeadAcid, capacity=100 * AMPERE_HOUR)
    warm, hot = (
        signals_at(LeadAcid, values, (12.65,), (1.0, 0.0, kelvin), (kelvin,))[0]
        for kelvin in (WARM_K, WARM_K + 10.0)
    )
    assert warm * 30 * 86400 == pytest.approx(-SELF_DISCHARGE["flooded"])
    assert hot == pytest.approx(2.0 * warm)


def test_a_rated_share_is_the_closed_form():
    """n = 1.1 and 20 h: k't = 20 / 2.78 = 7.194, so 0.6921 x 7.194 / (1 + 0.6921 x 6.194)."""
    share, tau = wells_for(1.1)
    assert rated_share(20 * HOUR, share, tau) == pytest.approx(4.979 / 5.287, rel=1e-3)


def test_charged_from_a_panel_its_voltage_rises_and_its_current_tapers():
    """Twenty amperes into 100 Ah at half charge: the set voltage is reached near 80 % of charge
    and the current falls from there (common practice, no source)."""
    rest = (
        "storage pack : lead_acid { capacity 100 Ah; charge 50 %; temperature 25 degC }\n"
        "source panel : photovoltaic {\n"
        "    power 400 W; vmp 35 V; voc 42 V; isc 12.3 A; mount flat\n}\n"
        "converter regulator : mppt_charger { output_limit 20 A; max_input 60 V }\n"
        "cable panel -> regulator.panel { length 3 m; wire 6 mm2 }\n"
        "cable regulator.battery -> pack { length 0.3 m; wire 16 mm2; fuse 40 A at pack }\n"
    )
    run = solved_by_both(SITE.format(lasts="10 h", sky="clear", more="") + rest, 300.0)
    charge, amps = remembered(run, "pack", "charge"), amps_into(run, "pack")
    peak = int(np.argmax(amps))
    assert charge[peak] < 0.85
    assert amps[-1] < 0.35 * amps[peak]
    assert charge.max() <= 1.0
    assert imbalance(run) < 1e-6


def test_too_cold_to_carry_a_lamp_it_still_shows_volts_and_comes_back_in_the_sun():
    """At -20 degC half the charge is held back (table of the model), so at 45 % it carries nothing
    by night; a meter still finds its rest voltage, and a controller that starts by it."""
    rest = (
        "storage pack : lead_acid { capacity 100 Ah; charge 45 %; temperature -20 degC }\n"
        "source panel : photovoltaic {\n"
        "    power 200 W; vmp 18 V; voc 22 V; isc 12 A; mount flat\n}\n"
        "converter regulator : mppt_charger { output_limit 15 A; max_input 60 V }\n"
        "load lamp : steady { current 2 A; works 11 V .. 15 V }\n"
        "cable panel -> regulator.panel { length 3 m; wire 6 mm2 }\n"
        "cable regulator.battery -> pack { length 0.3 m; wire 16 mm2; fuse 40 A at pack }\n"
        "cable pack -> lamp { length 0.3 m; wire 2.5 mm2; fuse 5 A at pack }\n"
    )
    site = SITE.format(lasts="24 h", sky="clear", more="").replace("08:00", "00:00")
    run = solved_by_both(site + rest, 300.0)
    amps = amps_into(run, "lamp")
    assert amps[0] == 0.0
    assert amps.max() == pytest.approx(2.0)
    volts = run.terminal_volts(run.problem.station.device("pack"))
    assert volts[: first_time(amps > 1.0)].min() > 12.0
    assert imbalance(run) < 1e-6
