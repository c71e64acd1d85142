"""How fast the editor's server answers on 200 devices: `python tests/bench/editor_speed.py`.

Told in milliseconds of processor time, the shortest of several; and as ratios to reading the text
alone, which mean the same on any machine. Wanted: mistakes well below 500 ms, completion below
100 ms on a machine of today.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from copperpath.catalogue import installed_catalogue
from copperpath.editor.completion import complete
from copperpath.editor.hover import hover
from copperpath.editor.mistakes import mistakes_in
from copperpath.editor.reading import Reading, read
from copperpath_grammar import parse

DEVICES, WAYS, TIMES = 200, 50, 5
CATALOGUE = installed_catalogue()
HEAD = """station "Many" {
    place 64.2 N, 27.7 E; starts 2026-06-19 08:00 +03:00; lasts 72 h; sky clear; air 8 degC
}
storage pack : lfp { capacity 1000 Ah }
"""


def station() -> str:
    """Strips with a radio on every way, all written out."""
    lines = [HEAD]
    for strip in range(DEVICES // WAYS):
        lines.append(f"block strip{strip} : strip {{ ways {WAYS}; rating 60 A }}")
        lines.append(f"cable pack -> strip{strip}.in {{ length 1 m; wire 16 mm2 }}")
        for way in range(1, WAYS + 1):
            name = f"rig{strip}_{way}"
            lines.append(
                f"load {name} : transceiver {{ receive 0.3 A; transmit 2 A; transmitting 10 %; "
                "on 06:00 to 23:00; priority 2; mass 1 kg }"
            )
            lines.append(f"cable strip{strip}.{way} -> {name} {{ length 1 m; wire 1.5 mm2 }}")
            lines.append(f"require {name} powered throughout")
    return "\n".join(lines) + "\n"


def fastest(task: Callable[[str], object], text: str) -> float:
    """The shortest of several times [ms of the processor], each for a text not seen before."""
    taken = []
    for turn in range(TIMES):
        fresh = f"{text}# {turn}\n"
        began = time.process_time()
        task(fresh)
        taken.append(1e3 * (time.process_time() - began))
    return min(taken)


def main() -> None:
    """Measure and print."""
    good = station()
    typed = good + "cable strip0."
    tasks: list[tuple[str, str, Callable[[str], object]]] = [
        ("reading the text alone", good, parse),
        ("mistakes, a good text", good, lambda text: mistakes_in(of(text))),
        ("mistakes, a line half typed", typed, lambda text: mistakes_in(of(text))),
        ("completion, a line half typed", typed, lambda text: complete(of(text), len(typed))),
        ("hover over a device", good, lambda text: hover(of(text), text.index("rig0_7"))),
    ]
    base = 0.0
    for name, text, task in tasks:
        taken = fastest(task, text)
        base = base or taken
        print(f"{name:<40}{taken:8.0f} ms{taken / base:8.2f} times reading it", flush=True)


def of(text: str) -> Reading:
    """A reading of a text."""
    return read(text, "many.station", None, CATALOGUE)


if __name__ == "__main__":
    main()
