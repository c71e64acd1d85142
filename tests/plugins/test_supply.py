"""A supply by the hour."""

from __future__ import annotations

import pytest
from support.sample_devices import law_at, settled

from copperpath_plugins.sources.supply import Supply


@pytest.mark.parametrize(
    ("volts", "runs", "amps"),
    [(13.7, 1.0, -15.0), (13.8, 1.0, 0.0), (14.4, 1.0, 0.0), (9.0, 1.0, -30.0), (9.0, 0.0, 0.0)],
)
def test_it_holds_its_voltage_up_to_its_limit_and_takes_a_milliampere(volts, runs, amps):
    """0.2 V under its voltage at 30 A, so half of that at 13.7 V; 0.1 mA a volt beside it."""
    values = settled(Supply, voltage=13.8, limit=30.0)
    taken = law_at(Supply, values, (volts,), (), (runs,))[0]
    assert taken == pytest.approx(amps + 1e-4 * volts, abs=1e-9)
