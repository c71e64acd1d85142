"""How reading grows with the size of a station: `python tests/bench/language_table.py`.

Parse, build and check of one text of 2 000 devices and as many cables, against one of 200: at most
twice the time for each device, all written out or as many of one kind in kits.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from support.big_stations import kit_text, plain_text

MOST = 2.0
TIMES = 5


def seconds(text: str) -> float:
    """The shortest of several times to read and check a good text, in processor time [s]."""
    from copperpath.network.checks import check_network
    from copperpath.pipeline import load_text

    taken = []
    for _ in range(TIMES):
        began = time.process_time()
        station = load_text(text).station
        assert station is not None
        check_network(station)
        taken.append(time.process_time() - began)
    return min(taken)


def ratio(make: Callable[[int], str], few: int, many: int) -> float:
    """Time for a device of a big station over that of a small one."""
    seconds(make(few))  # tables, models and libraries are loaded once
    small, big = seconds(make(few)) / few, seconds(make(many)) / many
    print(f"{few:6d} devices {1e3 * small:6.2f} ms each, {many:6d} {1e3 * big:6.2f} ms each")
    return big / small


def main() -> int:
    """Measure and print; 1 if a limit is missed."""
    kept = True
    for name, make in (("written out", plain_text), ("in kits", kit_text)):
        found = ratio(make, 200, 2000)
        kept &= found <= MOST
        told = "kept" if found <= MOST else "MISSED"
        print(f"{name:<20}{found:6.2f}   at most {MOST:g}   {told}", flush=True)
    return 0 if kept else 1


if __name__ == "__main__":
    raise SystemExit(main())
