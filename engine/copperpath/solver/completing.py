"""Thin tables of offers made full, compiled.

The time loop calls it, through its address, for a step whose floor lies above the best voltage.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numba import types

from copperpath.solver.assembly import fill, fill_in
from copperpath.solver.cache import part
from copperpath.solver.circuit_arrays import BUFFERS, CIRCUIT
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.curve import CLOSE_V, NEAR, sweep
from copperpath.solver.places import Places, PlacesType, array


@dataclass(frozen=True, eq=False)
class Completing(Places):
    """drives (time, all slots') and shares (time, port) of a zone, its seekers by port; of all
    seekers the tables, points (time, seeker, 2 * OFFER_POINTS), and whether they are full (time,
    seeker)."""

    drives: Any = array(np.float64, 2)
    shares: Any = array(np.float64, 2)
    seekers: Any = array(np.int64)
    points: Any = array(np.float64, 3)
    full: Any = array(np.int8, 2)


@part(CIRCUIT, NEAR, PlacesType(Completing), BUFFERS, types.int64)
def complete(c: Any, n: Any, job: Any, w: Any, t: int) -> int:
    """Make the tables of a zone's seekers full at a step. It begins anew at each step, so that
    what it finds does not depend on which steps were asked for before."""
    v = w.spare
    fill_in(w, c.drive, job.drives[t])
    volts = job.points[t, job.seekers[0]]
    best, top = volts[0], volts[OFFER_POINTS - 1]
    fill(v, best)
    gap = (top - best) / (OFFER_POINTS - 1.0)
    sweep(c, n, 0, OFFER_POINTS - 1, 0, best, gap, 0, CLOSE_V, v, w)
    most = 0.0
    for k in range(OFFER_POINTS - 2, 0, -1):
        most = max(most, n.power[k])
        for port in range(len(job.seekers)):
            points = job.points[t, job.seekers[port]]
            points[OFFER_POINTS + k] = most * job.shares[t, port]
    for seeker in job.seekers:
        job.full[t, seeker] = 1
    return 0
