"""A lead-acid battery: rest voltage, capacity in the cold, capacity when drawn fast."""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace

from outside.checks.record import Record, numbered, origin
from scipy.optimize import brentq
from support.sample_devices import law_at, settled

from copperpath_plugins.storage.lead_acid import SLOWLY_S, LeadAcid, volts_at_head
from copperpath_plugins.storage.two_wells import rated_share

WARM_K = 298.15
HOUR = 3600.0
WARMER = (
    "ours gives no more than its rated charge when it is warmer than 25 degC, which the model says "
    "that it leaves out; so it is on the safe side"
)


def records() -> Iterator[Record]:
    """Rest voltages, warmth, Peukert's law."""
    yield from _rest()
    yield from _warmth()
    yield from _peukert()


def _rest() -> Iterator[Record]:
    six = SimpleNamespace(cells=6.0, raised=0.0)
    for rows, row in numbered("lead_acid_rest.csv"):
        percent = float(row["charge_percent"])
        yield Record(
            claim=f"flooded, rest at {percent:g} %",
            expected=float(row["rest_v"]),
            ours=float(volts_at_head(percent / 100.0, six)),
            unit="V",
            tolerance=1e-9,
            why="ours is this table",
            rows=rows,
            **origin(row),
        )


def _warmth() -> Iterator[Record]:
    for file, name in (
        ("lead_acid_warmth.csv", "standard"),
        ("lead_acid_warmth_handbook.csv", "handbook"),
    ):
        for rows, row in numbered(file):
            fahrenheit = float(row["electrolyte_f"])
            warm = fahrenheit > 78.0 and name == "standard"
            memory = row["obtained"] == "from memory"
            agreed = (("cross_checks.csv", 19),) if 40.0 <= fahrenheit <= 70.0 else ()
            yield Record(
                claim=f"share of the charge at {fahrenheit:g} degF, {name}",
                expected=1.0 / float(row["times_capacity"]),
                ours=share_available((fahrenheit + 459.67) / 1.8),
                unit="",
                tolerance=0.02 if memory else 0.003,
                why="remembered, and below 40 degF ours goes by the handbook"
                if memory
                else "the factors are printed with three figures",
                rows=rows + agreed,
                disagrees=WARMER if warm else "",
                at_most=0.17,
                **origin(row),
            )


def share_available(cell_k: float) -> float:
    """How much of the charge can be drawn at a warmth, found where the law stops giving more than
    the little that no cold holds back."""
    values = settled(LeadAcid, capacity=100 * HOUR)
    little = 1.000001 * values["most_charge"] / SLOWLY_S
    low, high = 0.0, 1.0
    for _ in range(50):
        charge = 0.5 * (low + high)
        gives = law_at(LeadAcid, values, (9.0,), (charge, 0.0, cell_k), (cell_k,))[0] < -little
        low, high = (low, charge) if gives else (charge, high)
    return 1.0 - high


def _peukert() -> Iterator[Record]:
    for rows, row in numbered("peukert.csv"):
        exponent, amps = float(row["exponent"]), float(row["current_A"])
        capacity, rated_h = float(row["rated_Ah"]), float(row["rated_hours"] or 20.0)
        trap = ()
        if not row["rated_hours"]:
            # Its capacity is that drawn at one ampere; at 20 h it is C = 20 I, 20 I^k = Cp.
            capacity = 20.0 * (capacity / 20.0) ** (1.0 / exponent)
            trap = (("cross_checks.csv", 24),)
        hours = lasts_h(capacity, rated_h, exponent, amps)
        time = "time" in row["published_quantity"]
        expected = float(row["published_value"])
        yield Record(
            claim=f"{float(row['rated_Ah']):g} Ah at {amps:g} A, exponent {exponent:g}, "
            + ("time" if time else "charge"),
            expected=expected,
            ours=hours if time else hours * amps,
            unit=row["unit"],
            tolerance=(0.038 if exponent > 1.25 else 0.028) * expected,
            why="two wells give Peukert's capacities within 2.8 % at an exponent of 1.2 and 3.8 % "
            "at 1.3",
            rows=rows + trap,
            **origin(row),
        )


def lasts_h(capacity_ah: float, rated_h: float, exponent: float, amps: float) -> float:
    """How long the wells carry a steady current from full until the available one is empty [h]."""
    values = settled(
        LeadAcid, capacity=capacity_ah * HOUR, rated_over=rated_h * HOUR, rate_exponent=exponent
    )
    share, tau = values["available_share"], values["well_tau"]

    def left(hours: float) -> float:
        return float(
            values["most_charge"] * rated_share(hours * HOUR, share, tau) - amps * hours * HOUR
        )

    return float(brentq(left, 0.1, 1000.0))
