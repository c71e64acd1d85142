"""Ranges of the battery trade beside what ours takes unless told."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from outside.checks.lead_acid import share_available
from outside.checks.lithium import volts_at
from outside.checks.record import Record, band, numbered, origin
from support.sample_devices import settled

from copperpath.plugin_api import Parameter
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.storage import lead_acid
from copperpath_plugins.storage.lfp import AVAILABLE, WARMTHS_K, LithiumIronPhosphate
from copperpath_plugins.storage.lithium_ion import LithiumIon

ZERO_C = 273.15
CUTS_OFF = (
    "ours is where the protection of a battery cuts off while drawn, 2.6 V a cell; the range is "
    "down to where a cell is harmed (2.5 V of it from memory)"
)
NO_LOSS = "ours loses nothing unless told: little in a run of days, and from memory anyway"
WEAK = 0.13
"""Published samples of the share left in the cold go from 0.44 to 0.70."""


def usual(model: type, name: str) -> float:
    """What a parameter is if it is not given."""
    (found,) = (p for p in model.parameters if isinstance(p, Parameter) and p.name == name)
    assert found.default is not None
    return found.default


def single(figure: float, slack: float) -> dict[str, float]:
    """One figure, not a range."""
    return {"expected": figure, "tolerance": slack}


def _ours() -> dict[tuple[str, str], tuple[float, float, str]]:
    """Figure, slack beside the range, and why it differs."""
    iron = settled(LithiumIronPhosphate, cells=1.0, capacity=360_000.0)
    other = settled(LithiumIon, cells=1.0, capacity=360_000.0)
    shares = np.linspace(0.02, 0.98, 49)
    iron_mean, other_mean, back, forth = (
        float(np.mean([volts_at(model, values, share, amps) for share in shares]))
        for model, values, amps in (
            (LithiumIronPhosphate, iron, -20.0),
            (LithiumIon, other, -20.0),
            (LithiumIronPhosphate, iron, -20.0),
            (LithiumIronPhosphate, iron, 10.0),
        )
    )
    cold = float(np.interp(ZERO_C - 18.0, WARMTHS_K, AVAILABLE))
    absorb = usual(MpptCharger, "absorb")
    return {
        ("LFP", "nominal cell voltage"): (iron_mean, 0.1, ""),
        ("LFP", "charge limit per cell"): (absorb / 4.0, 1e-9, ""),
        ("LFP", "discharge cut-off per cell"): (iron["cutoff_voltage"], 1e-9, CUTS_OFF),
        ("LFP", "charging temperature window, unheated pack"): (
            usual(LithiumIronPhosphate, "charge_above") - ZERO_C,
            1e-9,
            "",
        ),
        ("LFP", "one-way capacity left at -18 C"): (cold, WEAK, ""),
        ("lead-acid AGM", "one-way capacity left at -18 C"): (
            share_available(ZERO_C - 18.0),
            WEAK,
            "",
        ),
        ("LFP", "energy round trip"): (
            usual(LithiumIronPhosphate, "efficiency") * back / forth,
            1e-9,
            "",
        ),
        ("lithium-ion", "coulombic efficiency"): (usual(LithiumIon, "efficiency"), 1e-9, ""),
        ("lead-acid", "coulombic efficiency"): (lead_acid.EFFICIENCIES["flooded"], 1e-9, ""),
        ("lead-acid flooded", "self-discharge per month at 25 C"): (
            lead_acid.SELF_DISCHARGE["flooded"],
            1e-9,
            "",
        ),
        ("lead-acid AGM", "self-discharge per month at 25 C"): (
            lead_acid.SELF_DISCHARGE["agm"],
            1e-9,
            "",
        ),
        ("LFP", "self-discharge per month at 25 C"): (
            usual(LithiumIronPhosphate, "self_discharge"),
            1e-9,
            NO_LOSS,
        ),
        ("lead-acid", "charge voltage range, 6 cells"): (absorb, 1e-9, ""),
        ("lead-acid", "gassing voltage, 6 cells, room temperature"): (absorb, 0.05, ""),
        ("lead-acid flooded", "Peukert exponent"): (lead_acid.EXPONENTS["flooded"], 1e-9, ""),
        ("lead-acid AGM", "Peukert exponent"): (lead_acid.EXPONENTS["agm"], 1e-9, ""),
        ("lead-acid gel", "Peukert exponent"): (lead_acid.EXPONENTS["gel"], 1e-9, ""),
        ("NMC / NCA", "nominal cell voltage"): (other_mean, 0.05, ""),
        ("NMC / NCA", "charge limit per cell"): (other["full_voltage"], 1e-9, ""),
        ("NMC / NCA", "discharge cut-off per cell"): (other["cutoff_voltage"], 1e-9, ""),
        ("all lithium-ion", "no charge below"): (
            usual(LithiumIon, "charge_above") - ZERO_C,
            1e-9,
            "",
        ),
    }


WHY = {
    1e-9: "the range itself",
    0.05: "the range, and half a tenth of a volt, in which labels are given",
    0.1: "a nominal voltage is a name; the mean while drawn in five hours within a tenth of a volt",
    WEAK: "published samples go from 0.44 to 0.70 at -20 degC; half of that spread",
}


def records() -> Iterator[Record]:
    """Each fact of which ours has a counterpart."""
    ours = _ours()
    for rows, row in numbered("battery_facts.csv"):
        key = (row["chemistry"], row["quantity"])
        if key not in ours:
            continue
        figure, slack, reason = ours[key]
        low, high = float(row["low"]), float(row["high"])
        yield Record(
            claim=f"{row['chemistry']}, {row['quantity']}".replace(" C", " degC"),
            **(band(low - slack, high + slack) if high > low else single(low, slack)),
            ours=float(figure),
            unit={"C": "degC", "fraction": ""}.get(row["unit"], row["unit"]),
            why=WHY[slack],
            rows=rows,
            disagrees=reason,
            at_most={CUTS_OFF: 0.36, NO_LOSS: 0.021}.get(reason, 0.0),
            **origin(row),
        )
