"""Short-circuit currents against Ohm's law by hand; stores are given as volts behind ohms."""

from __future__ import annotations

import pytest
from support.building import SITE, station_of

from copperpath.wiring import short_circuit
from copperpath.wiring.short_circuit import Shorts
from copperpath.wiring.wiring import Wiring

TWO = (
    SITE
    + """storage one : lfp { capacity 50 Ah }
storage two : lfp { capacity 50 Ah }
block a : strip { ways 3; rating 100 A }
load lamp : steady { power 5 W }
cable one -> a.1 { length 1 m; wire 16 mm2 }
cable two -> a.2 { length 2 m; wire 16 mm2 }
cable a.3 -> lamp { length 4 m; wire 2.5 mm2 }
"""
)
STORES = {"one.line": (13.4, 0.010), "two.line": (13.2, 0.030)}
METRE = 2 * 1.21e-3
"""Both conductors of 16 mm² [ohm/m]: IEC 60228."""


def shorts(text: str, stores: dict[str, tuple[float, float]]) -> Shorts:
    return Shorts(Wiring(station_of(text)), stores)


def way_ohm(wiring: Wiring, end: str) -> float:
    """A way of the strip from its feed."""
    (ohm,) = (line.ohm for line in wiring.lines if line.end == end and not line.cable)
    return max(ohm, short_circuit.LEAST_OHM)


def test_at_one_battery_alone_it_is_volts_over_ohms() -> None:
    text = (
        SITE
        + "storage one : lfp { capacity 50 Ah }\nload lamp : steady { power 5 W }\n"
        + "cable one -> lamp { length 4 m; wire 2.5 mm2 }\n"
    )
    found = shorts(text, {"one.line": (13.4, 0.010)})
    assert found.at("one.line") == pytest.approx(13.4 / 0.010, rel=1e-6)
    # 7.98 ohm/km (IEC 60228), both conductors.
    assert found.at("lamp.line") == pytest.approx(13.4 / (0.010 + 8 * 7.98e-3), rel=1e-6)


def test_two_batteries_push_into_a_short_side_by_side() -> None:
    found = shorts(TWO, STORES)
    ways = [way_ohm(found.wiring, f"a.{way}") for way in (1, 2)]
    by_hand = 13.4 / (0.010 + METRE + ways[0]) + 13.2 / (0.030 + 2 * METRE + ways[1])
    assert found.at("a.in") == pytest.approx(by_hand, rel=1e-6)


def test_a_charger_adds_the_most_it_gives() -> None:
    more = """source p : photovoltaic { power 100 W; vmp 18 V; voc 22 V; isc 6 A; mount flat }
converter c : mppt_charger { output_limit 20 A; max_input 60 V }
cable p -> c.panel { length 5 m; wire 4 mm2 }
cable c.battery -> a.in { length 1 m; wire 4 mm2 }
"""
    assert shorts(TWO + more, STORES).at("a.in") == pytest.approx(
        shorts(TWO, STORES).at("a.in") + 20.0, rel=1e-9
    )


def test_where_nothing_gives_nothing_flows() -> None:
    text = TWO + (
        "load far : steady { power 5 W }\nload further : steady { power 5 W }\n"
        "cable far -> further { length 1 m; wire 1 mm2 }\n"
    )
    assert shorts(text, STORES).at("far.line") == 0.0


def test_the_sparse_matrix_of_a_large_station_gives_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    dense = [shorts(TWO, STORES).at(name) for name in ("a.in", "lamp.line", "two.line")]
    monkeypatch.setattr(short_circuit, "MOST_DENSE", 0)
    sparse = [shorts(TWO, STORES).at(name) for name in ("a.in", "lamp.line", "two.line")]
    assert sparse == pytest.approx(dense, rel=1e-9)
