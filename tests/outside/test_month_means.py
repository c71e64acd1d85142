"""Published means of months give shares of the clear sky's light that a sky can have.

Source: statistics of typical years (TMY3), mean light a day on the level [kWh/m2] of each month,
Fairbanks (702610). The means are those of the files, worked out by their makers.
"""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest

from copperpath.over_year import MonthMean
from copperpath.plugin_api import Mount
from copperpath.site.month_shares import monthly_shares
from copperpath.site.place import Place
from copperpath.site.site import make_site
from copperpath.station import ClearSky, SiteSettings

LEVEL = Mount(0.0, 180.0)
FAIRBANKS = Place(64.82, -147.85, 133.0, 0.0)
MEANS = (0.154, 0.748, 2.264, 4.268, 5.327, 5.64, 5.119, 3.932, 2.209, 1.011, 0.256, 0.046)
SKY = ClearSky(1.0, {}, {m: MonthMean(v * 1000.0 / 24.0, LEVEL) for m, v in enumerate(MEANS, 1)})
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def settings(month: int, days: float) -> SiteSettings:
    starts = datetime(2026, month, 1, tzinfo=UTC)
    return SiteSettings(
        *(64.82, -147.85, 133.0, starts, days * 86_400.0, SKY, 250.0, 260.0, 0.2, False)
    )


def test_from_march_to_october_fairbanks_has_between_50_and_95_percent_of_clear() -> None:
    shares = monthly_shares(SKY, 2026, FAIRBANKS, settings(1, 1))
    assert all(0.5 < shares[month] < 0.95 for month in range(3, 11))


@pytest.mark.parametrize("month", range(1, 13))
def test_every_month_of_the_table_comes_back(month: int) -> None:
    light = make_site(settings(month, DAYS[month - 1]), 1200.0).plane_irradiance(LEVEL)
    assert float(np.mean(light)) * 0.024 == pytest.approx(MEANS[month - 1], rel=1e-3)
