"""A module of supercapacitors: its voltage goes with its charge, down to nothing."""

from __future__ import annotations

from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Accumulator,
    Elementwise,
    FloatArray,
    Model,
    Parameter,
    Surroundings,
    Suspect,
    Terminal,
    Values,
    between,
    elementwise,
)
from copperpath_plugins.storage.pack_parameters import CHARGE_AT_START, RESERVE
from copperpath_plugins.values import given

OHM_FARAD = 1.0
"""Resistance of a module times its capacitance [s]: 0.5 to 1 s, from memory; the unkind end."""

LEAK_PER_FARAD = 3e-5
"""Leak of a module at its rated voltage for each farad [A/F], 1.7 mA at 58 F: from memory."""


@elementwise
def ohm_of_step(d: Elementwise, p: Elementwise) -> Elementwise:
    """Volts that each ampere moves it by during the step [ohm]."""
    return d.step / p.farad


@elementwise
def left_by_leak(d: Elementwise, p: Elementwise) -> Elementwise:
    """Share of its voltage that a step leaves in which nothing but the leak flows."""
    return 1.0 / (1.0 + p.leak_siemens * ohm_of_step(d, p))


@elementwise
def volts_before(x: Elementwise, p: Elementwise) -> Elementwise:
    """Voltage of the capacitance at the start of the step [V]."""
    return x.charge * p.full_voltage


@elementwise
def amps_kept(amps: Elementwise, x: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """What the capacitance keeps of a current [A]: the leak aside, and no further than its ends."""
    before, ohm = volts_before(x, p), ohm_of_step(d, p)
    kept = left_by_leak(d, p) * (amps - p.leak_siemens * before)
    return between(kept, -before / ohm, (p.full_voltage - before) / ohm)


@elementwise
def volts_after(amps: Elementwise, x: Elementwise, d: Elementwise, p: Elementwise) -> Elementwise:
    """Voltage of the capacitance at the end of the step [V]."""
    return volts_before(x, p) + amps_kept(amps, x, d, p) * ohm_of_step(d, p)


class Supercapacitor(Model):
    """A capacitance behind a resistance, with a leak beside it.

    Its current is worked out with the voltage that it has at the *end* of the step,

        v = v_end + R i,   v_end = v_start + (i - v_end / R_leak) dt / C

    so that a small one on a stiff circuit does not swing, however long the steps. The first line
    is backward Euler's: a decay errs by half a step's share of it, half as much in half the step.
    The energy kept is exact, C (v_end^2 - v_start^2) / 2; the rest of what comes in is heat, in a
    very long step C (v_end - v_start)^2 / 2, as much as any resistance turns to heat between a
    stiff source and a capacitor.
    """

    interface = 1
    name = "supercapacitor"
    kind = "storage"
    summary = "a module of supercapacitors: little energy, much current, voltage down to nothing"
    leaves_out = (
        "ageing; how resistance and capacitance change with warmth, voltage and pace; the slow "
        "part of charge that comes back after a fast discharge; what happens above its rated "
        "voltage or reversed, which harms it: here balancing circuits turn to heat what more "
        "would come; with a radio, each state of the key counts as lasting the whole step"
    )
    parameters = (
        Parameter(
            "capacitance",
            "capacitance",
            "capacitance of one module",
            required=True,
            low=0.0,
            low_allowed=False,
            bound_reason="a capacitor without capacitance stores nothing",
            example="58 F",
            shown_unit="F",
        ),
        Parameter(
            "voltage",
            "voltage",
            "rated voltage of one module: `charge` 100 %",
            required=True,
            low=1.0,
            high=120.0,
            bound_reason="cells and modules here are rated between 1 V and 120 V",
            example="16 V",
            shown_unit="V",
        ),
        *(
            Parameter(
                name,
                "number",
                f"equal modules {words}",
                default=1.0,
                low=1.0,
                high=20.0,
                bound_reason="between one and twenty modules are joined",
                whole=True,
                basis="one module",
                example="2",
            )
            for name, words in (("series", "in series"), ("parallel", "side by side"))
        ),
        CHARGE_AT_START,
        RESERVE,
        Parameter(
            "resistance",
            "resistance",
            "resistance of one module; 1 ohm divided by its farads if not given (from memory)",
            low=1e-5,
            high=10.0,
            bound_reason="a module has between 10 µohm and 10 ohm",
            basis="resistance times capacitance is 0.5 to 1 s, from memory",
            example="22 mohm",
            shown_unit="mohm",
        ),
        Parameter(
            "leakage",
            "current",
            "what one module loses at its rated voltage, after days there; 30 µA a farad if not "
            "given (from memory)",
            low=0.0,
            high=10.0,
            bound_reason="a module leaks between nothing and 10 A",
            basis="a few milliamperes for a module of some ten farad, from memory",
            example="2 mA",
            shown_unit="mA",
        ),
    )
    terminals = (Terminal("line", "its two poles", main=True, limit="full_voltage"),)
    derived = ("farad", "module_ohm", "leak_siemens", "full_voltage")
    drives = ("step",)
    pushes = "full_voltage"
    states = (Accumulator("charge", "charge", carries_charge=True),)
    suspects = (
        Suspect(
            "the capacitor is too small", "twice the capacitance", (("farad", "*2"),), sizing=True
        ),
    )

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """All modules together."""
        farad, volts = float(p["capacitance"]), float(p["voltage"])
        ohm, leak = given(p, "resistance"), given(p, "leakage")
        series, parallel = float(p["series"]), float(p["parallel"])
        leak = LEAK_PER_FARAD * farad if leak is None else leak
        return {
            "farad": farad * parallel / series,
            "module_ohm": (OHM_FARAD / farad if ohm is None else ohm) * series / parallel,
            "leak_siemens": leak / volts * parallel / series,
            "full_voltage": volts * series,
        }

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """`step`: its length [s]."""
        return {"step": site.dt_s}

    @staticmethod
    def law(v: Any, x: Any, d: Any, p: Any) -> Any:
        """Current into it [A]; at the rated voltage and at none its resistance alone is left."""
        left, ohm = left_by_leak(d, p), p.module_ohm
        moves = (v.line - left * volts_before(x, p)) / (ohm + left * ohm_of_step(d, p))
        full, bare = (v.line - p.full_voltage) / ohm, v.line / ohm
        return (np.minimum(np.maximum(moves, full), bare),)

    @staticmethod
    def watch(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Rate of charge, as a share of that at the rated voltage [1/s]."""
        return (amps_kept(i[0], x, d, p) / (p.farad * p.full_voltage),)

    @staticmethod
    def heat(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Loss in resistance, in leak and balancing, and by the step's own voltage [W]."""
        kept, after = amps_kept(i[0], x, d, p), volts_after(i[0], x, d, p)
        moved = 0.5 * kept**2 * ohm_of_step(d, p)
        return p.module_ohm * i[0] ** 2 + after * (i[0] - kept) + moved

    @staticmethod
    def store(v: Any, i: Any, x: Any, d: Any, p: Any) -> Any:
        """Power into the capacitance: its mean voltage over the step times what it keeps [W]."""
        mean = 0.5 * (volts_before(x, p) + volts_after(i[0], x, d, p))
        return mean * amps_kept(i[0], x, d, p)

    @staticmethod
    def lowest_planned(x: Any, p: Any) -> Any:
        """Charge at which the reserve is reached."""
        return p.reserve + 0.0 * x.charge

    @staticmethod
    def contents(charge: Any, p: Any) -> Any:
        """Energy held at a charge [J]: half the capacitance times the voltage squared."""
        return 0.5 * p.farad * (charge * p.full_voltage) ** 2
