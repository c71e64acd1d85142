"""Conductors between the published sizes; the sizes themselves are held against their tables in
`checks/wires.py`."""

from __future__ import annotations

from itertools import pairwise

import pytest
from support.outside_data import rows_of

from copperpath.build.wire_sizes import RESISTIVITY, area_conductor


@pytest.mark.parametrize("solid", [False, True])
def test_resistance_falls_with_every_bit_of_area(solid: bool) -> None:
    areas = [0.05 * 1.03**step for step in range(260)]
    ohms = [area_conductor(area, solid=solid).ohm_per_m for area in areas if area <= 120.0]
    assert all(later < earlier for earlier, later in pairwise(ohms))


@pytest.mark.parametrize("area", [0.34, 1.2, 1.3, 3.0, 5.0, 8.0, 20.0])
def test_unlisted_sizes_say_that_they_are_reckoned(area: float) -> None:
    wire = area_conductor(area, solid=False)
    assert "not in IEC 60228" in wire.assumed
    # Real copper of that area, with at most the standard's allowance for stranding and tolerance.
    ideal = RESISTIVITY / (area * 1e-6)
    assert ideal < wire.ohm_per_m < 1.20 * ideal


@pytest.mark.parametrize(
    "row", rows_of("wire_metric.csv"), ids=lambda r: f"{r['nominal_mm2']} {r['class']}"
)
def test_listed_sizes_assume_nothing(row: dict[str, str]) -> None:
    assert area_conductor(float(row["nominal_mm2"]), solid=row["class"] == "1 and 2").assumed == ""
