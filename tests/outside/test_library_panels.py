"""Panels of the parts library against the list of modules that pvlib bundles (CEC list, 2019).

Of all crystalline modules, and of all thin-film ones, the middle nine tenths of each ratio and
coefficient: a generic panel lies inside. The remarks in `panels.station` quote these figures.
"""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest
from support.library_parts import LibraryPart, library_texts, parts_of

CRYSTALLINE = ("Mono-c-Si", "Multi-c-Si")
FILM = ("Thin Film", "CIGS", "CdTe")
PANELS = parts_of("photovoltaic")


@pytest.fixture(scope="module")
def modules() -> Any:
    from pvlib.pvsystem import retrieve_sam

    table = retrieve_sam("CECMod").T
    kind = table["Technology"]
    names = ["STC", "V_mp_ref", "V_oc_ref", "I_mp_ref", "I_sc_ref", "beta_oc", "gamma_r"]
    table = table[names].astype(float)
    table["kind"] = kind
    table["volts"] = table["V_oc_ref"] / table["V_mp_ref"]
    table["amperes"] = table["I_sc_ref"] / table["I_mp_ref"]
    table["voc_per_k"] = table["beta_oc"] / table["V_oc_ref"]
    table["power_per_k"] = table["gamma_r"] / 100.0
    return table


def _middle(table: Any, name: str, tail: float = 0.05) -> tuple[float, float]:
    low, high = np.quantile(table[name].to_numpy(), [tail, 1.0 - tail])
    return float(low), float(high)


@pytest.mark.parametrize("part", PANELS, ids=str)
def test_a_panel_of_the_library_lies_in_the_middle_nine_tenths_of_its_kind(
    part: LibraryPart, modules: Any
) -> None:
    kinds = FILM if part.sheet.name.startswith("thin_film") else CRYSTALLINE
    like = modules[modules["kind"].isin(kinds)]
    values = part.device.values
    figures = {
        "volts": values["voc"] / values["vmp"],
        "amperes": values["isc"] / values["imp"],
        "voc_per_k": values["voc_coefficient"],
    }
    for name, figure in figures.items():
        low, high = _middle(like, name)
        assert low <= figure <= high, name


@pytest.mark.parametrize("part", PANELS, ids=str)
def test_a_panel_loses_no_less_power_to_warmth_than_the_best_of_its_kind(
    part: LibraryPart, modules: Any
) -> None:
    """Cells of today lose less than most of the list of 2019: -0.35 %/K is common practice."""
    kinds = FILM if part.sheet.name.startswith("thin_film") else CRYSTALLINE
    low, high = _middle(modules[modules["kind"].isin(kinds)], "power_per_k")
    assert low <= part.device.values["power_coefficient"] <= max(high, -0.0035)


SIZES = (("panel_150w", 145, 165), ("panel_180w", 165, 190), ("panel_200w", 190, 225))


@pytest.mark.parametrize(("name", "least", "most"), SIZES)
def test_the_working_current_and_voltage_suit_modules_of_that_size(
    name: str, least: float, most: float, modules: Any
) -> None:
    """Middle eight tenths of the crystalline modules of that power below 27 V open circuit, and a
    fortieth beyond for panels of cut cells."""
    kept = modules[modules["kind"].isin(CRYSTALLINE) & (modules["V_oc_ref"] < 27.0)]
    kept = kept[(kept["STC"] >= least) & (kept["STC"] < most)]
    assert len(kept) >= 10
    values = next(part for part in PANELS if part.sheet.name == name).device.values
    for figure, column in (("vmp", "V_mp_ref"), ("voc", "V_oc_ref")):
        low, high = _middle(kept, column, 0.1)
        assert low * 0.975 <= values[figure] <= high * 1.025, figure


def test_the_remark_on_crystalline_modules_quotes_the_list(modules: Any) -> None:
    text = " ".join(library_texts()["panels"].replace("\n#", " ").split())
    said = re.search(
        r"voltage ([\d.]+) to ([\d.]+), short-circuit current over working current ([\d.]+) to "
        r"([\d.]+), change of open-circuit voltage (-[\d.]+) to (-[\d.]+) %/K and of power "
        r"(-[\d.]+) to (-[\d.]+) %/K",
        text,
    )
    assert said
    like = modules[modules["kind"].isin(CRYSTALLINE)]
    found = [*_middle(like, "volts"), *_middle(like, "amperes")]
    found += [100.0 * end for end in (*_middle(like, "voc_per_k"), *_middle(like, "power_per_k"))]
    for quoted, figure in zip(said.groups(), found, strict=True):
        assert float(quoted) == pytest.approx(figure, abs=0.0051)
