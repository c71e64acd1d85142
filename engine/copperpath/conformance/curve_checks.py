"""A source that declares its curve concave: the engine then looks for a single hump of its power.

What is asked of the law carries over to panels and cables joined in any way: the currents into the
device bend upwards only, a node that rises draws nothing into the others, and nodes that rise
together lose no current. A node's voltage is then a concave function of the port's (the inverse of
the slopes has no negative entry), so the current out of the port is one too, and so is the power.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from copperpath.conformance.breach import Breach
from copperpath.conformance.subject import Subject, where_bad
from copperpath.conformance.trial import Trial, flow_of
from copperpath.plugin_api import FloatArray

REMEDY = "leave `concave` out, and the engine scans for the highest of several humps"
ROUNDING = 1e-9
"""Of the currents compared; the law of a cable loses some digits between close voltages."""


def concave(subject: Subject) -> Iterable[Breach]:
    """Currents bend upwards only and rise with the voltages, each with its own alone."""
    random = subject.random()
    for trial in subject.trials:
        yield from _bends_upwards(trial, trial.volts[:, random.permutation(trial.points)])
        width = 10.0 ** random.uniform(-3.0, 1.0, trial.points)
        for place, name in enumerate(trial.shape.v_fields):
            raised = trial.volts.copy()
            raised[place] += width
            rise = _rise(trial, raised)
            rise[place] = 0.0
            wrong = f"a higher voltage at `{name}` draws current into another place of it"
            yield from where_bad(trial, np.any(rise > 0.0, axis=0), wrong, REMEDY)
        fall = -_rise(trial, trial.volts + width)
        wrong = "it gives more when all its voltages rise together"
        yield from where_bad(trial, np.any(fall > 0.0, axis=0), wrong, REMEDY)


def _bends_upwards(trial: Trial, others: FloatArray) -> list[Breach]:
    """No current half-way between two points lies above the mean of theirs."""
    one, other, middle = (
        _amps(trial, volts) for volts in (trial.volts, others, 0.5 * (trial.volts + others))
    )
    above = middle - 0.5 * (one + other)
    scale = 1.0 + np.max(np.abs(np.vstack([one, other])), axis=0)
    bad = (above > ROUNDING * scale).any(axis=0)
    return where_bad(trial, bad, "its curve bends the other way somewhere", REMEDY)


def _amps(trial: Trial, volts: FloatArray) -> FloatArray:
    return flow_of(replace(trial, volts=volts)).amps


def _rise(trial: Trial, raised: FloatArray) -> FloatArray:
    """By how much each current is more at the raised voltages, rounding taken off both ways."""
    before, after = _amps(trial, trial.volts), _amps(trial, raised)
    rounding = ROUNDING * (1.0 + np.maximum(np.abs(before), np.abs(after)).max(axis=0))
    change = after - before
    return np.asarray(np.sign(change) * np.maximum(np.abs(change) - rounding, 0.0))
