"""Radios: how hard a mode works while sending, supply windows, and currents of library parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from outside.checks.record import Record, band, numbered, origin
from support.building import SITE, station_of
from support.sample_devices import law_at, settled

from copperpath.plugin_api import Schedule
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.loads.transceiver import Transceiver

RECEIVE_A, TRANSMIT_A = 0.3, 2.1
QUOTED_AGAIN = (
    "many later lists print 40 % for processed single sideband; ours keeps the 50 % of the "
    "bulletin itself"
)
SUPPLY = (
    "the supply is rated 12 A with something to spare; the library's radio draws 10.5 A when it "
    "sends, the middle of what its kind does (from memory)"
)


def records() -> Iterator[Record]:
    """Modes, then supplies."""
    for file, also in (("mode_factors.csv", ""), ("mode_factors_requoted.csv", ", quoted again")):
        for rows, row in numbered(file):
            if not row["word"]:
                continue
            differs = bool(also) and row["word"] == "ssb_processed"
            yield Record(
                claim=f"{row['word']}{also}",
                expected=float(row["duty_factor"]),
                ours=share_while_sending(row["word"]),
                unit="",
                tolerance=1e-9,
                why="ours is the bulletin's table",
                rows=rows + ((("cross_checks.csv", 20),) if differs else ()),
                disagrees=QUOTED_AGAIN if differs else "",
                at_most=0.1001,
                **origin(row),
            )
    yield from _supplies()


def share_while_sending(mode: str) -> float:
    """How far from receive to fully keyed the mean current lies while a radio sends."""
    values = settled(
        Transceiver,
        receive=RECEIVE_A,
        transmit=TRANSMIT_A,
        transmitting=Schedule((), 0.15),
        mode=mode,
    )
    return float(values["mode_mean"])


def _part(name: str) -> dict[str, Any]:
    station = station_of(
        'include library "radios"\n' + SITE + "storage pack : lfp { capacity 50 Ah }\n"
        f"load rig : {name} {{ transmitting 10 % }}\n"
        "cable pack -> rig { length 1 m; wire 6 mm2; fuse 30 A at pack }\n"
    )
    return dict(station.device("rig").values)


def _supplies() -> Iterator[Record]:
    large, mobile = _part("hf_100w"), _part("fm_50w")
    for rows, row in numbered("supply_windows.csv"):
        said = {"rows": rows, **origin(row)}
        if row["low_V"]:
            for word in ("low", "high"):
                yield Record(
                    claim=f"radios of the library, {word}est voltage",
                    expected=float(row[f"{word}_V"]),
                    ours=large[f"works_{word}"],
                    unit="V",
                    tolerance=0.05,
                    why="one of the two texts rounds to a tenth of a volt, as ours does",
                    **said,
                )
        elif row["equipment"].startswith("100 W"):
            yield Record(
                claim="a 100 W radio of the library, sending",
                **band(20.0, 22.0),
                ours=large["transmit"],
                unit="A",
                why="about 20 to 22 A",
                **said,
            )
        elif row["equipment"].startswith("50 W"):
            yield Record(
                claim="a 50 W radio of the library, sending",
                expected=12.0,
                ours=mobile["transmit"],
                unit="A",
                tolerance=1.0,
                why="a tenth, as for the larger radio",
                disagrees=SUPPLY,
                at_most=1.6,
                **said,
            )
        else:
            values = settled(Steady, power=303.6, works=(11.7, 15.9))
            yield Record(
                claim="303.6 W at 13.8 V",
                expected=22.0,
                ours=law_at(Steady, values, (13.8,), (), (1.0,))[0],
                unit="A",
                tolerance=1e-6,
                why="a product",
                **said,
            )
