"""Lithium cells: rest voltage, and voltage and charge while they are drawn at four rates."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from outside.checks.record import Record, numbered, origin
from scipy.optimize import brentq
from support.sample_devices import law_at, settled

from copperpath_plugins.storage.lfp import LithiumIronPhosphate
from copperpath_plugins.storage.lithium_ion import LithiumIon

WARM_K = 298.15
AMPERE_HOUR = 3600.0
SPREAD_V = 0.07
"""Two published formulas of the same half cell differ by 29 to 70 mV."""

SPREAD = (
    "0.07 V a cell: two published formulas of one half cell differ by 29 to 70 mV, so its rest "
    "voltage is not known better from public sources"
)
STEEP_ENDS = (
    "ours falls less steeply near empty than this one cell's set, in which the last tenth of the "
    "charge lies under 3 V a cell"
)
KNEE = (
    "ours has no slow part of the sag: the set's voltage falls off before its charge is gone, "
    "the sooner the faster it is drawn; ours only by its resistance, and near empty less steeply"
)
FULL = "ours rests at 3.4 V a cell when full, its surface charge gone; the set starts at 3.6 V"
RATE = (
    "ours gives all its charge at 25 degC however fast; the set loses more with the rate than "
    "makers publish for such cells"
)


def records() -> Iterator[Record]:
    """Rest voltages, discharge, what is delivered."""
    yield from _rest()
    yield from _discharge()
    yield from _delivered()


def volts_at(model: Any, values: dict[str, Any], charge: float, amps: float) -> float:
    """Voltage at the poles while so much flows in [V]; at no current that at which none flows."""
    state = (charge, WARM_K, 0.0, 0.0, 0.0)

    def over(volts: float) -> float:
        return law_at(model, values, (volts,), state, (WARM_K,))[0] - amps

    return float(brentq(over, 0.1, 6.0 * values["cells"], xtol=1e-9))


def _rest() -> Iterator[Record]:
    one = settled(LithiumIon, cells=1.0, capacity=12 * AMPERE_HOUR, available=1.0)
    for rows, row in numbered("lithium_ion_rest.csv"):
        percent = float(row["charge_percent"])
        # With nothing to give or to take the ends say no voltage: a hair inside them.
        charge = min(max(percent / 100.0, 1e-9), 1.0 - 1e-9)
        yield Record(
            claim=f"nickel-manganese-cobalt rest, {percent:g} %",
            expected=float(row["rest_cell_v"]),
            ours=volts_at(LithiumIon, one, charge, 0.0),
            unit="V a cell",
            tolerance=1e-6,
            why="ours is this table, with straight lines between",
            rows=rows,
            **origin(row, "computed from a reference library"),
        )
    iron = settled(LithiumIronPhosphate, cells=1.0, capacity=2.3 * AMPERE_HOUR)
    for rows, row in numbered("lfp_rest_one_cell.csv"):
        share = float(row["soc"])
        charge = min(max(share, 1e-9), 1.0 - 1e-9)
        reason = STEEP_ENDS if share < 0.15 else FULL if share == 1.0 else ""
        yield Record(
            claim=f"iron phosphate rest, {100 * share:g} %",
            expected=float(row["ocv_cell_V"]),
            ours=volts_at(LithiumIronPhosphate, iron, charge, 0.0),
            unit="V a cell",
            tolerance=SPREAD_V,
            why=SPREAD,
            rows=rows,
            disagrees=reason,
            at_most=0.55,
            **origin(row),
        )


KNEES = {"20": 0.85, "5": 0.80, "2": 0.70, "1": 0.65}
"""From this depth on the voltage falls off, by the hours that its current would empty it in."""


def _discharge() -> Iterator[Record]:
    iron = settled(LithiumIronPhosphate, cells=1.0, capacity=2.3 * AMPERE_HOUR)
    for rows, row in numbered("lfp_discharge.csv"):
        depth = float(row["depth_percent"]) / 100.0
        charge = min(1.0 - depth, 1.0 - 1e-9)
        ours = volts_at(LithiumIronPhosphate, iron, charge, -float(row["current_a"]))
        reason = FULL if depth == 0.0 else KNEE if depth > KNEES[row["hours"]] - 1e-9 else ""
        yield Record(
            claim=f"iron phosphate in {row['hours']} h, {100 * depth:.0f} % gone",
            expected=float(row["terminal_cell_v"]),
            ours=ours,
            unit="V a cell",
            tolerance=SPREAD_V,
            why=SPREAD,
            rows=rows,
            disagrees=reason,
            at_most=0.72,
            **origin(row, "computed from a reference library"),
        )


def _delivered() -> Iterator[Record]:
    iron = settled(LithiumIronPhosphate, cells=1.0, capacity=2.3 * AMPERE_HOUR)
    depths = np.linspace(0.0, 1.0, 201)
    for rows, row in numbered("lfp_discharge_summary.csv"):
        amps = float(row["current_A"])
        volts = np.array(
            [
                volts_at(LithiumIronPhosphate, iron, min(max(1.0 - d, 1e-9), 1 - 1e-9), -amps)
                for d in depths
            ]
        )
        kept = volts >= 2.0
        hours = 2.3 * float(depths[kept][-1])
        mean = float(np.trapezoid(volts[kept], depths[kept]) / depths[kept][-1])
        name = f"{row['model']}, {row['rate']}"
        fast = row["rate"] in ("C/2", "1C")
        agreed = (("cross_checks.csv", 18),)
        yield Record(
            claim=f"{name}: charge given to 2 V",
            expected=float(row["delivered_Ah"]),
            ours=hours,
            unit="Ah",
            tolerance=0.05 * float(row["delivered_Ah"]),
            why="5 %: makers' ratings of one size differ by about so much (from memory)",
            rows=rows + agreed,
            disagrees=RATE if fast else "",
            at_most=0.4,
            **origin(row),
        )
        yield Record(
            claim=f"{name}: mean voltage",
            expected=float(row["mean_V"]),
            ours=mean,
            unit="V a cell",
            tolerance=SPREAD_V,
            why=SPREAD,
            rows=rows,
            **origin(row),
        )
