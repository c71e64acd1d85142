"""A lead-acid battery: flooded, absorbed glass mat, or gel."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Elementwise,
    FloatArray,
    Lag,
    Model,
    Surroundings,
    Terminal,
    Values,
    between,
    elementwise,
    table,
)
from copperpath_plugins.storage.charge_kept import MONTH_S, kept_amps, lost_share
from copperpath_plugins.storage.lead_acid_parameters import PARAMETERS
from copperpath_plugins.storage.resistance_by_charge import towards_empty
from copperpath_plugins.storage.rest_curve import area_below
from copperpath_plugins.storage.two_wells import (
    available_head,
    flow_between,
    gap_target,
    rated_share,
    wells_for,
)
from copperpath_plugins.storage.usable_charge import (
    LOST_TO_COLD,
    TOO_SMALL,
    floor_at_rest,
    floor_under,
)
from copperpath_plugins.values import given

HIGHEST_CELL_V = 2.65
"""Volts a cell above which any charging harms; equalising ends at 2.6 or so: from memory."""

REST_CHARGES = (0.0, 0.25, 0.50, 0.75, 1.0)
REST_VOLTS = (11.89, 12.06, 12.24, 12.45, 12.65)
"""Rest voltage of six flooded cells against charge: a battery trade's public table of voltage and
density."""

RAISED_V = {"flooded": 0.0, "agm": 0.15, "gel": 0.15}
"""How far six full cells rest above flooded ones, less when emptier: from memory."""

EXPONENTS = {"flooded": 1.2, "agm": 1.1, "gel": 1.15}
"""Peukert's exponent: low end of published 1.2 to 1.6, middle of 1.05 to 1.15 and of 1.1 to 1.25
(a battery retailer's knowledge base)."""

EFFICIENCIES = {"flooded": 0.85, "agm": 0.95, "gel": 0.95}
SELF_DISCHARGE = {"flooded": 0.05, "agm": 0.02, "gel": 0.02}
"""Charge that comes out again as a share of what went in, and share lost in a month at 25 °C: from
memory, as ranges of 0.85 to 0.95, 3 to 6 % and 1 to 3 %."""

ACCEPTANCES_S = {"flooded": 3600.0, "agm": 2400.0, "gel": 4800.0}
"""Time by which the missing charge is divided for the current it takes at 2.4 V a cell: no more
amperes than missing ampere-hours for flooded ones; AGM takes more, gel less, from memory."""

WARMTHS_K = (253.15, 266.48, 272.04, 277.59, 283.15, 288.71, 294.26, 298.15)
AVAILABLE = (0.5, 1 / 1.59, 1 / 1.40, 1 / 1.30, 1 / 1.19, 1 / 1.11, 1 / 1.04, 1.0)
"""Share of the charge that can be drawn, from 77 °F down to 40 °F one over the factors of IEEE 485
table 1, at 30 °F and 20 °F of a solar handbook's table; at -20 °C from memory."""

OHM_WARMTHS_K = (253.15, 273.15, 298.15)
OHM_FACTORS = (2.0, 1.4, 1.0)
"""Resistance to discharge and charge against that at 25 °C: from memory."""

ACCEPTS_V = 0.3
"""Volts above rest for each cell, 2.4 V while charging, at which `acceptance` holds."""

FADES_SHARE = 0.02
"""Last share of the available charge over which the current fades: a choice."""

SLOWLY_S = 3.6e6
"""What takes a thousand hours to draw its whole charge is not held back by cold, down to no charge
at all: from memory. A meter or a controller thus finds volts at a battery that is too cold to
carry a load."""


@elementwise
def head(x: Elementwise, p: Elementwise) -> Elementwise:
    """Head of the well that gives the current: 1 full, 0 empty."""
    return available_head(x.charge, x.gap, p.available_share)


@elementwise
def volts_at_head(level: Elementwise, p: Elementwise) -> Elementwise:
    """Rest voltage [V] of a well at that head."""
    raised = p.raised * between(level, 0.0, 1.0)
    return p.cells / 6.0 * (table(level, REST_CHARGES, REST_VOLTS) + raised)


@elementwise
def floor_share(x: Elementwise, p: Elementwise) -> Elementwise:
    """Head below which only little can be drawn at this warmth."""
    return floor_under(table(x.cell, WARMTHS_K, AVAILABLE), p)


@elementwise
def inner_ohm(x: Elementwise, p: Elementwise) -> Elementwise:
    """Resistance at this warmth and head [ohm]."""
    warm = p.ohm_warm * towards_empty(head(x, p), p)
    return warm * table(x.cell, OHM_WARMTHS_K, OHM_FACTORS)


@elementwise
def taking_siemens(x: Elementwise, p: Elementwise) -> Elementwise:
    """Conductance while charging [S]: the nearer to full, the less it takes."""
    missing = np.maximum(1.0 - head(x, p), 0.0)
    factor = table(x.cell, OHM_WARMTHS_K, OHM_FACTORS)
    return missing / (factor * (p.ohm_warm * missing + p.acceptance_ohm))


@elementwise
def kept_share(amps: Elementwise, p: Elementwise) -> Elementwise:
    """What a current adds to the charge, as a share of all charge [1/s]."""
    return kept_amps(amps, p.charge_efficiency) / p.most_charge


class LeadAcid(Model):
    """Two wells of charge; rest voltage of the available one behind a resistance.

    Capacity depends on how fast it is drawn, because charge must flow over from the bound well
    (`two_wells`). While it is charged the current goes with the charge that is missing, so its
    voltage rises towards that of the charger and the current tapers, whatever the charger.
    """

    name = "lead_acid"
    kind = "storage"
    interface = 1
    summary = "a lead-acid battery: flooded, agm or gel, with its capacity at an hour rate"
    leaves_out = (
        "ageing, sulphation and freezing; the current that a full battery goes on taking as gas or "
        "float; acid that stands in layers; the voltage's own minutes of sag and recovery; more "
        "than the rated charge when warmer than 25 degC; its own warming by use. `charge` counts "
        "all there is, of which a rated discharge leaves a few per cent bound"
    )
    parameters = PARAMETERS
    terminals = (Terminal("line", "its two poles", main=True, limit="highest_voltage"),)
    derived = (
        "available_share",
        "well_tau",
        "most_charge",
        "gap_at_start",
        "raised",
        "ohm_warm",
        "acceptance_ohm",
        "charge_efficiency",
        "self_rate",
        "fixed_available",
        "full_voltage",
        "highest_voltage",
        "planned_floor",
    )
    drives = ("around",)
    pushes = "full_voltage"
    states = (
        Accumulator("charge", "charge", carries_charge=True),
        Lag("gap", tau="well_tau", initial="gap_at_start"),
        Lag("cell", tau="thermal_lag", initial="around"),
    )
    suspects = (
        LOST_TO_COLD,
        TOO_SMALL,
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Wells that hold the rated charge at its hour rate, and what follows from the kind."""
        kind, cells, rated = p["kind"], float(p["cells"]), float(p["capacity"])
        share, tau = wells_for(_or(given(p, "rate_exponent"), EXPONENTS[kind]))
        most = rated / rated_share(float(p["rated_over"]), share, tau)
        # 5 mohm for 12 V and 100 Ah.
        ohm = _or(given(p, "resistance"), 0.005 * cells / 6.0 * 360_000.0 / rated)
        available = given(p, "available")
        floor = floor_at_rest(p, WARMTHS_K, AVAILABLE)
        resting = cells / 6.0 * (REST_VOLTS[-1] + RAISED_V[kind])
        return {
            "available_share": share,
            "well_tau": tau,
            "most_charge": most,
            "gap_at_start": 0.0,
            "raised": RAISED_V[kind],
            "ohm_warm": ohm,
            "acceptance_ohm": ACCEPTS_V
            * cells
            * _or(given(p, "acceptance"), ACCEPTANCES_S[kind])
            / most,
            "charge_efficiency": _or(given(p, "efficiency"), EFFICIENCIES[kind]),
            "self_rate": _or(given(p, "self_discharge"), SELF_DISCHARGE[kind]) / MONTH_S,
            "fixed_available": _or(available, -1.0),
            "full_voltage": resting,
            "highest_voltage": HIGHEST_CELL_V * cells,
            "planned_floor": floor + float(p["reserve"]) * (1.0 - floor),
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`around`: temperature around the battery [K]."""
        return {"around": site.temperature(p["temperature"])}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into the battery [A]."""
        level = head(x, p)
        over = v.line - volts_at_head(level, p)
        floor = floor_share(x, p)
        fade = between((level - floor) / FADES_SHARE, 0.0, 1.0)
        wanted = np.minimum(over, 0.0) / inner_ohm(x, p)
        slowly = between(np.minimum(level, floor) / FADES_SHARE, 0.0, 1.0)
        slowly = slowly * p.most_charge / SLOWLY_S
        giving = fade * wanted + (1.0 - fade) * np.maximum(wanted, -slowly)
        return (giving + np.maximum(over, 0.0) * taking_siemens(x, p),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of charge, where the gap goes, temperature around."""
        kept = kept_share(i[0], p)
        return (
            kept - lost_share(x.charge, x.cell, p.self_rate),
            gap_target(-kept, p.available_share, p.well_tau),
            d.around,
        )

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in resistance and acceptance, charge that is not kept, self-discharge, and what
        charge loses on its way between the wells [W]."""
        level = head(x, p)
        volts = volts_at_head(level, p)
        not_kept = (
            i[0]
            - kept_share(i[0], p) * p.most_charge
            + lost_share(x.charge, x.cell, p.self_rate) * p.most_charge
        )
        fall = volts_at_head(level + x.gap, p) - volts
        flows = flow_between(x.gap, p.available_share, p.well_tau) * p.most_charge
        return (v.line - volts) * i[0] + volts * not_kept + flows * fall

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the store: each well's rest voltage times what flows into it [W]."""
        level = head(x, p)
        volts = volts_at_head(level, p)
        kept = (kept_share(i[0], p) - lost_share(x.charge, x.cell, p.self_rate)) * p.most_charge
        fall = volts_at_head(level + x.gap, p) - volts
        flows = flow_between(x.gap, p.available_share, p.well_tau) * p.most_charge
        return volts * kept - flows * fall

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached."""
        floor = floor_share(x, p)
        return floor + p.reserve * (1.0 - floor)

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        """Energy held at rest at a charge [J]: the area under the rest voltage over charge."""
        share = area_below(charge, REST_CHARGES, REST_VOLTS) + 0.5 * p.raised * charge**2
        return p.most_charge * p.cells / 6.0 * share


def _or(value: float | None, usual: float) -> float:
    return usual if value is None else value
