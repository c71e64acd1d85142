"""All 21,535 modules of a published list: their labels, and a rating that no fit has seen.

The rating, PTC, stands beside the label numbers: power in 1000 W/m² and air of 20 °C.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import numpy as np
from outside.checks.record import Record, numbered, origin
from support.sample_devices import plain_site, settled

from copperpath.plugin_api import Mount
from copperpath_plugins.sources.photovoltaic import Photovoltaic

COLUMNS = (
    "STC",
    "PTC",
    "A_c",
    "I_sc_ref",
    "V_oc_ref",
    "I_mp_ref",
    "V_mp_ref",
    "alpha_sc",
    "beta_oc",
    "gamma_r",
    "T_NOCT",
)
TERMS = ("photocurrent", "saturation", "slope", "series", "shunt")
SITE = plain_site(20.0, 1000.0)
POINTS = 200
FORM = (
    "a rating of the list is good to some per cent: the library's own model with fitted terms lies "
    "within 0.5 % for nine tenths of the modules"
)


def records() -> Iterator[Record]:
    """Every technology: how many could be fitted, how far from their rating; then 25 modules one
    by one."""
    off, kinds = over_rating()
    used = tuple(
        key
        for keys, row in numbered("panel_conditions.csv")
        if row["quantity"] in ("PTC irradiance", "PTC air temperature")
        for key in keys
    )
    used += tuple(
        key for keys, row in numbered("panel_list_columns.csv") if _used(row) for key in keys
    )
    for rows, row in numbered("panel_list_counts.csv"):
        kind = row["technology"]
        some = off if kind == "ALL" else off[kinds == kind]
        name = "all" if kind == "ALL" else kind
        agreed = (("cross_checks.csv", 14),) if kind == "ALL" else ()
        yield Record(
            claim=f"{name}: labels that give a curve",
            expected=float(row["entries_with_PTC"]),
            ours=float(np.count_nonzero(np.isfinite(some))),
            unit="modules",
            tolerance=0.5,
            why="a count",
            rows=rows + used,
            **origin(row),
        )
        yield Record(
            claim=f"{name}: off the rating, median",
            expected=0.0,
            ours=float(100.0 * np.median(some)),
            unit="%",
            tolerance=0.5,
            why=FORM,
            rows=rows + agreed,
            **origin(row),
        )
        yield Record(
            claim=f"{name}: within 5 % of the rating",
            expected=100.0,
            ours=float(100.0 * np.mean(np.abs(some) < 0.05)),
            unit="%",
            tolerance=1.0,
            why="ratings with a misprint, of which the list has some",
            rows=rows,
            **origin(row),
        )
    for rows, row in numbered("panel_list_sample.csv"):
        place = int(row["row_in_pvlib_file"])
        for word, key, share in (
            ("rating", "PTC_W", 0.05),
            ("the library's", "pvlib_Pmp_at_PTC_W", 0.02),
        ):
            expected = float(row[key])
            yield Record(
                claim=f"module {place}, {row['technology']}, {word}",
                expected=expected,
                ours=float((1.0 + off[place]) * float(row["PTC_W"])),
                unit="W",
                tolerance=share * expected,
                why=FORM
                if word == "rating"
                else "the library has terms fitted by the list's makers where ours come from the "
                "label alone",
                rows=rows,
                **origin(row),
            )


def _used(row: dict[str, str]) -> bool:
    return row["column"] in (*COLUMNS, "Technology")


@lru_cache
def over_rating() -> tuple[np.ndarray, np.ndarray]:
    """Our power over the published one less 1, and the technology, of every module."""
    from pvlib.pvsystem import retrieve_sam

    table = retrieve_sam("CECMod").T
    labels = table[list(COLUMNS)].astype(float).to_numpy()
    terms = np.array([_terms(dict(zip(COLUMNS, label, strict=True))) for label in labels])
    made = np.concatenate([_most_power(some) for some in np.array_split(terms, 40)])
    return made / labels[:, 1] - 1.0, table["Technology"].to_numpy()


def _terms(module: dict[str, float]) -> list[float]:
    """The curve's terms in 1000 W/m² and air of 20 °C, from all the label's numbers."""
    given: dict[str, Any] = {
        "power": module["STC"],
        "vmp": module["V_mp_ref"],
        "voc": module["V_oc_ref"],
        "isc": module["I_sc_ref"],
        "imp": module["I_mp_ref"],
        "voc_coefficient": module["beta_oc"] / module["V_oc_ref"],
        "isc_coefficient": module["alpha_sc"] / module["I_sc_ref"],
        "power_coefficient": module["gamma_r"] / 100.0,
        "nominal_cell_temperature": module["T_NOCT"] + 273.15,
        "efficiency": module["STC"] / (1000.0 * module["A_c"]),
        "mount": Mount(0.0, 180.0),
    }
    drives = Photovoltaic.drive(SITE, settled(Photovoltaic, **given))
    return [float(drives[name][0]) for name in TERMS]


def _most_power(terms: np.ndarray) -> np.ndarray:
    """Largest power of each row of terms [W], by two looks, the second between the neighbours of
    the first's best."""
    light, saturation, slope, series, shunt = (column[:, None] for column in terms.T)
    top = slope * np.log(light / saturation)
    low, high = 0.5 * top, top
    for _ in range(2):
        share = np.linspace(0.0, 1.0, POINTS)
        junction = low + (high - low) * share
        amps = light - saturation * np.expm1(junction / slope) - shunt * junction
        power = amps * (junction - amps * series)
        best = np.clip(np.argmax(power, axis=1), 1, POINTS - 2)[:, None]
        low, high = (np.take_along_axis(junction, best + side, axis=1) for side in (-1, 1))
    return np.max(power, axis=1)
