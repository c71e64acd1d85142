"""What a radio draws by how hard its mode works; the factors are held in `checks/radios.py`."""

from __future__ import annotations

import pytest
from support.building import SMALL
from support.outside_data import rows_of
from support.sample_devices import settled
from support.small_station import run_text

from copperpath.plugin_api import Schedule
from copperpath_plugins.loads.transceiver import MODE_FACTORS, Transceiver

ROWS = rows_of("mode_factors.csv")
RECEIVE_A, KEY_UP_A, TRANSMIT_A = 0.3, 0.6, 2.1


def amps_while_sending(mode: str, **given: float) -> float:
    """Mean current while sending: from receive at level 0 to transmit at level 1 [A]."""
    level = settled(
        Transceiver,
        receive=RECEIVE_A,
        transmit=TRANSMIT_A,
        transmitting=Schedule((), 0.15),
        mode=mode,
        **given,
    )["mode_mean"]
    return float(RECEIVE_A + level * (TRANSMIT_A - RECEIVE_A))


def test_every_mode_of_a_radio_is_a_published_one() -> None:
    assert set(MODE_FACTORS) == {row["word"] for row in ROWS}


@pytest.mark.parametrize(
    ("mode", "amps"), [("ssb", 0.9), ("ssb_processed", 1.35), ("cw", 1.2), ("fm", 2.1)]
)
def test_the_factor_counts_from_key_up_to_fully_keyed(mode: str, amps: float) -> None:
    """0.6 A + 0.2 x 1.5 A = 0.9 A, + 0.5 x 1.5 A = 1.35 A, + 0.4 x 1.5 A = 1.2 A, + 1.5 A."""
    assert amps_while_sending(mode, key_up=KEY_UP_A) == pytest.approx(amps)


@pytest.mark.parametrize(("mode", "amps"), [("ssb", 0.66), ("cw", 1.02)])
def test_without_a_key_up_current_it_counts_from_receive(mode: str, amps: float) -> None:
    """0.3 A + 0.2 x 1.8 A = 0.66 A, + 0.4 x 1.8 A = 1.02 A."""
    assert amps_while_sending(mode) == pytest.approx(amps)


def test_a_radio_draws_its_share_of_both_over_the_hours() -> None:
    """85 % of the time 0.3 A, 15 % of it 0.6 A + 0.2 x 1.5 A: 0.255 A + 0.135 A = 0.39 A."""
    text = SMALL.replace("receive 0.32 A", "receive 0.3 A; key_up 0.6 A; mode ssb")
    record = run_text(text.replace("72 h", "3 h"))
    (rig,) = [figures for figures in record.base.devices if figures.name == "rig"]
    assert rig.current_mean_a == pytest.approx(0.39, rel=1e-6)
