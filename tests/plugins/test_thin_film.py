"""What a thin-film panel assumes, held against the list of modules that pvlib ships."""

from __future__ import annotations

import numpy as np
import pytest
from support.sample_devices import settled

from copperpath.plugin_api import Mount
from copperpath_plugins.sources.thin_film import ThinFilm

LABEL = {"power": 30.0, "vmp": 16.5, "voc": 20.8, "isc": 2.07, "mount": Mount(0, 180)}


@pytest.fixture(scope="module")
def listed() -> dict[str, np.ndarray]:
    from pvlib.pvsystem import retrieve_sam

    modules = retrieve_sam("CECMod").T
    kept = modules[modules["Technology"].isin(["Thin Film", "CdTe", "CIGS"])]

    def column(name: str) -> np.ndarray:
        return np.asarray(kept[name], dtype=np.float64)

    return {
        "voc_coefficient": column("beta_oc") / column("V_oc_ref"),
        "isc_coefficient": column("alpha_sc") / column("I_sc_ref"),
        "power_coefficient": column("gamma_r") / 100.0,
        "nominal_cell_temperature": column("T_NOCT") + 273.15,
        "efficiency": column("STC") / (1000.0 * column("A_c")),
    }


@pytest.mark.parametrize(
    ("name", "rounded"),
    [
        ("voc_coefficient", 5e-5),
        ("isc_coefficient", 5e-5),
        ("power_coefficient", 5e-5),
        ("nominal_cell_temperature", 0.5),
        ("efficiency", 0.005),
    ],
)
def test_what_it_assumes_is_the_median_of_the_listed_modules(
    listed: dict[str, np.ndarray], name: str, rounded: float
) -> None:
    assert len(listed[name]) == 589
    assert settled(ThinFilm, **LABEL)[name] == pytest.approx(np.median(listed[name]), abs=rounded)
