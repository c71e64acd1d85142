"""The problems that the bench puts to the solver: the ridge post for some days, values of it
varied, and trees of any size."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

from copperpath.network.nodes import make_network
from copperpath.pipeline import load, load_text
from copperpath.site import station_site
from copperpath.solver.problem import Problem, make_problem
from copperpath.station import Station

HERE = Path(__file__).parent
RIDGE_POST = HERE / "ridge_post.station"
DAY_S = 86_400.0


def read(path: Path) -> Station:
    """The station of a file that is known to be right."""
    loaded = load(path)
    assert loaded.station is not None, loaded.diagnostics
    return loaded.station


def problem_of(station: Station, days: float, step_s: float) -> Problem:
    """A station over its first days."""
    lasting = replace(station, site=replace(station.site, lasts_s=days * DAY_S))
    return make_problem(lasting, make_network(lasting), station_site(lasting, step_s))


def ridge_post(days: float, step_s: float = 60.0) -> Problem:
    """The bench's station over its first days."""
    return problem_of(read(RIDGE_POST), days, step_s)


def varied(cases: int, days: float, step_s: float) -> list[Problem]:
    """The ridge post with other values in each case: battery and panels between 70 and 130 % of
    what the file says, the network the same."""
    text = RIDGE_POST.read_text(encoding="utf-8")
    found = []
    for case in range(cases):
        share = 0.7 + 0.6 * case / max(cases - 1, 1)
        other = text.replace("capacity 110 Ah", f"capacity {110.0 * share:.3f} Ah")
        assert other != text or share == 1.0
        other = other.replace("derate 90 %", f"derate {90.0 * (1.7 - share) / 1.3:.3f} %")
        loaded = load_text(other, name=f"case {case}", folder=HERE)
        assert loaded.station is not None, loaded.diagnostics
        found.append(problem_of(loaded.station, days, step_s))
    return found


def tree_text(nodes: int) -> str:
    """A station whose main circuit has this many nodes after merging: a battery, a controller,
    a row of strips each fed from the one before, and loads on them that take 40 W together."""
    strips = math.ceil((nodes - 2) / 15)
    loads = nodes - 2 - strips
    lines = [
        'station "A tree" {',
        "    place 47.1 N, 10.9 E",
        "    starts 2026-06-01 00:00 +01:00",
        "    lasts 4 days",
        "    sky clear",
        "    air 4 degC .. 16 degC",
        "}",
        "source sun : photovoltaic { power 400 W; vmp 36 V; voc 44 V; isc 11.8 A; mount flat }",
        "converter control : mppt_charger { output_limit 30 A; max_input 75 V }",
        "storage pack : lfp { capacity 400 Ah }",
        "cable sun -> control.panel { length 4 m; wire 6 mm2 }",
        "cable control.battery -> strip0.in { length 1 m; wire 10 mm2 }",
        "cable pack -> strip0.in { length 0.5 m; wire 16 mm2; fuse 60 A at pack }",
    ]
    for strip in range(strips):
        lines.append(f"block strip{strip} : strip {{ ways 15 }}")
        if strip:
            lines.append(
                f"cable strip{strip - 1}.15 -> strip{strip}.in {{ length 0.5 m; wire 16 mm2 }}"
            )
    for load_ in range(loads):
        strip, way = load_ % strips, 1 + load_ // strips
        watts = 40.0 / loads * (0.4 + 0.1 * (load_ % 13))
        hours = f"; on {load_ % 12:02d}:00 to {12 + load_ % 12}:00" if load_ % 3 else ""
        lines.append(f"load load{load_} : steady {{ power {watts:.6f} W{hours} }}")
        lines.append(f"cable strip{strip}.{way} -> load{load_} {{ length 2 m; wire 1 mm2 }}")
    return "\n".join(lines) + "\n"


def tree(nodes: int, days: float, step_s: float = 60.0) -> Problem:
    """The problem of `tree_text`."""
    loaded = load_text(tree_text(nodes), name=f"tree of {nodes}", folder=HERE)
    assert loaded.station is not None, loaded.diagnostics
    return problem_of(loaded.station, days, step_s)
