"""Operating points against a general circuit simulator and against general root finding.

Two hundred random stations are solved, written as netlists and given to the simulator, which
shares nothing with the solver but the formulas of the laws. It starts at our voltages, so that
what is checked is that they are a point of its equations too, node by node and current by current.
`data/netlists.csv` keeps what came out; `COPPERPATH_UPDATE_NETLISTS=1 pytest
tests/outside/test_netlists.py` takes it anew, in one process.
"""

from __future__ import annotations

import csv
import os
from collections import Counter
from dataclasses import astuple, dataclass, fields
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pytest
from support.equations import leaving, moments, volts_by_name
from support.many_points import STABLE_S, Equations
from support.netlist_rows import NEAR, Roots, Simulated, roots, simulate
from support.simulator import FoundNothing, simulated
from support.two_hundred import COUNT, Case, case

from copperpath.netlist.sweep import port_sweep

TABLE = Path(__file__).parent / "data" / "netlists.csv"
MOST_LEFT_A = 1e-6


@dataclass(frozen=True)
class Row:
    """One station of the table. The differences are shares of the largest value."""

    station: str
    nodes: str
    state: str
    volts_apart: str
    amps_apart: str
    left_A: str
    near: str
    far: str


@dataclass(frozen=True)
class Compared:
    """A station, what the simulator says of it, and what separate equations say."""

    one: Case
    seen: Simulated
    found: Roots

    @property
    def row(self) -> Row:
        """The station as the table shows it."""
        return Row(
            str(self.one.number),
            str(sum(len(pair.ours) for pair in self.seen.volts)),
            "starving" if self.one.starving else "fed",
            f"{self.seen.volts_apart:.0e}",
            f"{self.seen.amps_apart:.0e}",
            f"{self.found.left_a:.0e}",
            self.found.near,
            self.found.far,
        )


def compare(number: int, folder: Path) -> Compared:
    """Solve a station and look at it in both ways."""
    one = case(number)
    assert one.solved
    return Compared(one, simulate(one, folder), roots(one))


@pytest.fixture(scope="module", params=range(COUNT), ids=str)
def station(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Compared:
    """Each of the stations in turn; all tests of one come before the next."""
    return compare(int(request.param), tmp_path_factory.mktemp("netlist"))


def test_the_simulator_stays_at_our_voltages(station: Compared) -> None:
    assert station.seen.volts_apart <= NEAR


def test_the_simulator_has_our_currents(station: Compared) -> None:
    assert station.seen.amps_apart <= NEAR


def test_panels_give_in_the_simulator_what_the_controller_takes(station: Compared) -> None:
    assert station.seen.watts_apart <= NEAR


def test_separately_written_equations_close(station: Compared) -> None:
    assert station.found.left_a < MOST_LEFT_A


def test_our_point_is_stable(station: Compared) -> None:
    assert station.found.eigenvalue > STABLE_S


def test_root_finding_ends_at_no_stable_point_but_ours_or_a_dead_one_below(
    station: Compared,
) -> None:
    """A station may have a second stable point, at which it is dead; ours is the live one."""
    assert {station.found.near, station.found.far} <= {"ours", "lower", "unstable", "none"}


def test_the_table_says_of_a_station_what_it_is(station: Compared) -> None:
    recorded = table()[str(station.one.number)]
    assert (station.row.nodes, station.row.state) == (recorded.nodes, recorded.state)


# ---- the table ------------------------------------------------------------------------------

HEAD = """\
# Two hundred random stations at an instant each: our operating point, a circuit simulator's, and
# where general root finding ends that begins near it and at 13 V everywhere.
# The differences are shares of the largest value of the circuit; left_A is what is left over at a
# node of separately written equations, in amperes. Made by tests/outside/test_netlists.py.
"""


def write_table() -> None:
    """Take the table anew."""
    with TemporaryDirectory() as folder:
        rows = [compare(number, Path(folder)).row for number in range(COUNT)]
    with TABLE.open("w", encoding="utf-8", newline="") as file:
        file.write(HEAD)
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow([field.name for field in fields(Row)])
        writer.writerows(astuple(row) for row in rows)


@cache
def table() -> dict[str, Row]:
    """What was recorded, by station; taken anew first if that is asked for."""
    if os.environ.get("COPPERPATH_UPDATE_NETLISTS"):
        write_table()
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if line[:1] != "#"]
    return {row["station"]: Row(**row) for row in csv.DictReader(lines)}


def test_the_table_has_every_station_once() -> None:
    assert list(table()) == [str(number) for number in range(COUNT)]


def test_half_of_the_recorded_stations_are_fed_and_a_third_starve() -> None:
    states = Counter(row.state for row in table().values())
    assert states["fed"] >= 100
    assert states["starving"] >= 60


def test_root_finding_ends_at_our_point_from_nearby_in_half_of_the_recorded_stations() -> None:
    ends = Counter(row.near for row in table().values())
    assert ends["ours"] >= 100


@pytest.mark.parametrize("number", [0, 1, 2, 3])
def test_many_points_at_once_have_the_currents_of_one_at_a_time(number: int) -> None:
    one = case(number)
    moment = moments(one.problem, one.solution, one.step, one.column)
    _, whole = volts_by_name(one.problem, one.solution, one.step, one.column)
    moved = {name: volts + 0.1 for name, volts in whole.items()}
    slowly = [list(leaving(one.problem.station, v, moment).values()) for v in (whole, moved)]
    together = np.array([list(whole.values()), list(moved.values())]).T
    at_once = Equations(one.problem.station, moment, list(whole), moment.opened).leaving(together)
    np.testing.assert_allclose(at_once, np.array(slowly).T, rtol=1e-9, atol=1e-9)


# ---- the search itself ----------------------------------------------------------------------


@pytest.mark.long
def test_the_simulator_finds_most_of_our_points_from_rough_guesses(tmp_path: Path) -> None:
    """It begins at voltages rounded to a tenth of a volt. It gives up now and then, and some
    stations have a second, dead point; it never ends at a node above ours."""
    ends: Counter[str] = Counter()
    for number in range(COUNT):
        try:
            seen = simulate(case(number), tmp_path, rounded=True)
        except FoundNothing:
            ends["none"] += 1
            continue
        main = seen.volts[0]
        above = float((main.theirs - main.ours).max())
        ends["ours" if main.apart <= NEAR else "lower" if above <= 1e-6 else "other"] += 1
    assert ends["other"] == 0
    assert ends["ours"] >= 160


# ---- the most that panels can give ----------------------------------------------------------

SWEPT = 40
"""So many zones are swept in the light."""
COARSE, FINE = 1500, 400


def lit_zones() -> list[tuple[int, int]]:
    """Station and zone of the first zones in the light."""
    found: list[tuple[int, int]] = []
    number = 0
    while len(found) < SWEPT:
        one = case(number)
        tops = one.solution.tops
        found += [(number, zone) for zone in range(len(tops)) if tops[zone][one.step] > 1.0]
        number += 1
    return found[:SWEPT]


def swept_most(one: Case, step: int, zone: int, folder: Path) -> float:
    """The most power [W] that the simulator finds at any voltage of a zone's port: over the whole
    range, and in steps of a twenty-thousandth of it around the voltage that we found."""
    top, best = one.solution.tops[zone][step], one.solution.points[step, zone, 0]
    near = max(best - 0.01 * top, 0.05 * top), min(best + 0.01 * top, top)
    most = 0.0
    for low, high, count in ((0.05 * top, top, COARSE), (*near, FINE)):
        sweep = (low, high, (high - low) / count)
        text, names = port_sweep(one.problem, one.solution, step, zone, sweep)
        found = simulated(text, folder)
        port = names.nodes[one.problem.network.zones[zone].ports[0]]
        most = max(most, float((found[f"v({port})"] * found[f"i({names.ports[0]})"]).max()))
    return most


def test_no_voltage_of_a_panel_side_gives_more_than_the_tracker_found(tmp_path: Path) -> None:
    for number, zone in lit_zones():
        one = case(number)
        offered = one.solution.points[one.step, zone, one.solution.points.shape[2] // 2]
        most = swept_most(one, one.step, zone, tmp_path)
        np.testing.assert_allclose(offered, most, rtol=1e-6, err_msg=f"station {number}, {zone}")


@pytest.mark.parametrize(
    ("number", "zone", "step"),
    [(23, 2, 2), (127, 1, 9), (133, 0, 14), (181, 0, 7)],
)
def test_a_valley_beside_the_best_voltage_does_not_hide_it(
    number: int, zone: int, step: int, tmp_path: Path
) -> None:
    one = case(number)
    offered = one.solution.points[step, zone, one.solution.points.shape[2] // 2]
    assert offered >= swept_most(one, step, zone, tmp_path) * (1.0 - 1e-6)
