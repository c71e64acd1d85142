"""A generator turned by a person."""

from __future__ import annotations

import pytest
from support.sample_devices import law_at, settled

from copperpath_plugins.sources.hand_crank import HandCrank


@pytest.mark.parametrize(
    ("volts", "runs", "amps"),
    [(12.0, 1.0, 2.5), (12.0, 0.5, 1.25), (12.0, 0.0, 0.0), (14.4, 1.0, 0.0), (3.6, 1.0, 4.1667)],
)
def test_a_person_of_50_watts_gives_30_at_the_leads(volts: float, runs: float, amps: float) -> None:
    """60 % come through; below 7.2 V the current is that at 7.2 V."""
    values = settled(HandCrank, power=50.0, efficiency=0.6, voltage=14.4)
    taken = law_at(HandCrank, values, (volts,), (), (runs,))[0]
    assert 1e-4 * volts - taken == pytest.approx(amps, abs=1e-4)


def test_a_hand_crank_gives_what_can_be_kept_up_unless_told() -> None:
    """30 to 75 W at the crank are common practice."""
    values = settled(HandCrank)
    assert 30.0 <= values["power"] <= 75.0
    assert 15.0 <= values["watts"] <= 50.0
