"""A supply by the hour."""

from __future__ import annotations

import pytest
from support.sample_devices import law_at, settled

from copperpath_plugins.sources.supply import Supply


@pytest.mark.parametrize(
    ("volts", "runs", "amps"),
    [(13.7, 1.0, -10.0), (13.8, 1.0, 0.0), (14.4, 1.0, 0.0), (9.0, 1.0, -30.0), (9.0, 0.0, 0.0)],
)
def test_it_holds_its_voltage_up_to_its_limit_and_takes_nothing(volts, runs, amps):
    values = settled(Supply, voltage=13.8, limit=30.0)
    assert law_at(Supply, values, (volts,), (), (runs,))[0] == pytest.approx(amps, abs=1e-9)
