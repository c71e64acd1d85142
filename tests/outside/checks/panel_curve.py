"""A panel's curve: its fit to a label, and how light and warmth act on it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from outside.checks.record import Record, numbered, origin
from support.panel_curve import panel_amps
from support.sample_devices import plain_site, settled

from copperpath.plugin_api import Mount
from copperpath_plugins.sources.label_fit import (
    HOT_K,
    REFERENCE_K,
    Curve,
    Label,
    at_temperature,
    fit_label,
    most_power,
)
from copperpath_plugins.sources.photovoltaic import Photovoltaic

BOLTZMANN_EV = 8.617333262e-5
ZERO_C = 273.15
OTHER_RULE = (
    "the published fit solves for five terms at once where ours takes an explicit formula; the "
    "same curve is given by neighbouring terms"
)
DIGITS = "printed with four decimals"


def records() -> Iterator[Record]:
    """The published fit, its points, and the conditions that ratings are for."""
    yield from _fit()
    yield from _points()
    yield from _conditions()


def _table() -> dict[str, float]:
    return {row["quantity"]: float(row["value"]) for _, row in numbered("panel_de_soto_fit.csv")}


def _fit() -> Iterator[Record]:
    given = _table()
    label = Label(
        given["v_mp"] * given["i_mp"],
        given["v_mp"],
        given["i_mp"],
        given["v_oc"],
        given["i_sc"],
        given["beta_voc"] / given["v_oc"],
        given["alpha_sc"] / given["i_sc"],
        -0.0045,
    )
    curve = fit_label(label)
    hot = at_temperature(curve, HOT_K)
    warmer = HOT_K - REFERENCE_K
    power_volts = _volts_at_most_power(curve)
    met = "the fit meets the label's numbers; two terms are chosen by a rule of their own"
    found = {
        "v_mp": (power_volts, 0.01, "the power is met exactly, its voltage by the explicit rule"),
        "i_mp": (
            most_power(curve) / power_volts,
            0.01,
            "the power is met exactly, its voltage by the explicit rule",
        ),
        "v_oc": (_open_volts(curve), 1e-6, met),
        "i_sc": (_short_amps(curve), 1e-6, met),
        "alpha_sc": (
            (_short_amps(hot) - _short_amps(curve)) / warmer,
            0.02,
            "the coefficient is given to the photocurrent, of which the shunt takes a little more "
            "through a warmer series resistance",
        ),
        "beta_voc": ((_open_volts(hot) - _open_volts(curve)) / warmer, 1e-3, met),
        "I_L_ref": (curve.photocurrent_a, 0.005, OTHER_RULE),
        "a_ref": (curve.slope_v, 0.03, OTHER_RULE),
        "R_s": (curve.series_ohm, 0.10, OTHER_RULE),
    }
    for rows, row in numbered("panel_de_soto_fit.csv"):
        if row["quantity"] not in found:
            continue
        ours, share, why = found[row["quantity"]]
        expected = float(row["value"])
        yield Record(
            claim=f"fit to a label, {row['quantity']}",
            expected=expected,
            ours=float(ours),
            unit=row["unit"],
            tolerance=share * abs(expected),
            why=why,
            rows=rows,
            **origin(row),
        )


def _short_amps(curve: Curve) -> float:
    return _amps(curve, 0.0)


def _amps(curve: Curve, volts: float) -> float:
    drives = {
        "photocurrent": np.array([curve.photocurrent_a]),
        "saturation": np.array([curve.saturation_a]),
        "slope": np.array([curve.slope_v]),
        "series": np.array([curve.series_ohm]),
        "shunt": np.array([curve.shunt_siemens]),
    }
    return float(panel_amps(drives, np.array([volts]))[0])


def _open_volts(curve: Curve) -> float:
    from scipy.optimize import brentq

    return float(brentq(lambda volts: _amps(curve, volts), 1.0, 100.0, xtol=1e-10))


def _volts_at_most_power(curve: Curve) -> float:
    from scipy.optimize import minimize_scalar

    found = minimize_scalar(
        lambda volts: -volts * _amps(curve, volts),
        bounds=(0.5 * _open_volts(curve), _open_volts(curve)),
        method="bounded",
        options={"xatol": 1e-7},
    )
    return float(found.x)


def _points() -> Iterator[Record]:
    """The published terms put in place of our fit; their band gap that shrinks with warmth is the
    same as a constant one times (1 + 0.0002677/K times 298.15 K)."""
    found = _table()
    terms = tuple(
        key
        for keys, row in numbered("panel_de_soto_fit.csv")
        for key in keys
        if row["role"] in ("model constant", "fitted parameter")
    )
    values = {
        "mount": Mount(0.0, 180.0),
        "derate": 1.0,
        "efficiency": 0.2,
        "nominal_cell_temperature": 293.15,
        "series_25": found["R_s"],
        "series_rise": 0.0,
        "photocurrent_25": found["I_L_ref"],
        "saturation_25": found["I_o_ref"],
        "slope_25": found["a_ref"],
        "shunt_25": 1.0 / found["R_sh_ref"],
        "gap": found["EgRef"] / BOLTZMANN_EV * (1.0 - found["dEgdT"] * 298.15),
        "photocurrent_rise": found["alpha_sc"],
    }
    for rows, row in numbered("panel_de_soto_points.csv"):
        site = plain_site(float(row["cell_temp_C"]), float(row["irradiance_W_m2"]))
        drives = Photovoltaic.drive(site, values)
        at = f"{row['irradiance_W_m2']} W/m2, {row['cell_temp_C']} degC"
        short, best, end = (
            float(panel_amps(drives, np.array([float(volts)]))[0])
            for volts in ("0", row["v_mp_V"], row["v_oc_V"])
        )
        agreed = (("cross_checks.csv", 13),)
        for word, expected, ours, unit, tolerance in (
            ("short circuit", float(row["i_sc_A"]), short, "A", 2e-4 * float(row["i_sc_A"])),
            ("at most power", float(row["i_mp_A"]), best, "A", 2e-4 * float(row["i_mp_A"])),
            (
                "most power",
                float(row["p_mp_W"]),
                best * float(row["v_mp_V"]),
                "W",
                2e-4 * float(row["p_mp_W"]),
            ),
            ("open circuit", 0.0, end, "A", 1e-3 * float(row["i_sc_A"])),
        ):
            yield Record(
                claim=f"{at}, {word}",
                expected=expected,
                ours=ours,
                unit=unit,
                tolerance=tolerance,
                why=DIGITS + "; our band gap is the same number written as a constant",
                rows=rows + terms + agreed,
                **origin(row, "computed from a reference library"),
            )


def _conditions() -> Iterator[Record]:
    """A label's current comes out where labels are measured; a cell is as warm as the label says
    in the light and air that this is said for."""
    rows = {row["quantity"]: (keys, row) for keys, row in numbered("panel_conditions.csv")}
    label = {"power": 100.0, "vmp": 18.0, "voc": 22.0, "isc": 6.0, "mount": Mount(0.0, 180.0)}
    light_rows, light = rows["STC irradiance"]
    warmth_rows, warmth = rows["STC cell temperature"]
    # A cell that light does not warm, so that the air's temperature is the cell's.
    cool = settled(Photovoltaic, **label, nominal_cell_temperature=293.15)
    drives = Photovoltaic.drive(plain_site(float(warmth["value"]), float(light["value"])), cool)
    yield Record(
        claim="short-circuit current of a label in STC",
        expected=6.0,
        ours=float(panel_amps(drives, np.zeros(1))[0]),
        unit="A",
        tolerance=1e-5,
        why="the share of the diode's current at no voltage is under a millionth",
        rows=light_rows + warmth_rows,
        **origin(light),
    )
    light_rows, light = rows["NOCT irradiance"]
    air_rows, air = rows["NOCT air temperature"]
    usual = settled(Photovoltaic, **label, nominal_cell_temperature=45.0 + ZERO_C, efficiency=0.09)
    drives = Photovoltaic.drive(plain_site(float(air["value"]), float(light["value"])), usual)
    cell_k = float(drives["slope"][0]) / usual["slope_25"] * REFERENCE_K
    # A tenth of what the cell takes in leaves it as power; labels are for a cell that gives none.
    yield Record(
        claim="cell of NOCT 45 degC in its light and air, over the air",
        expected=25.0 * 0.9,
        ours=cell_k - ZERO_C - float(air["value"]),
        unit="K",
        tolerance=1e-9,
        why="a definition",
        rows=light_rows + air_rows,
        **origin(light),
    )
