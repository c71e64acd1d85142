"""What a source-side zone can give, compiled: most power against lowest admissible voltage.

The ports of the zone are held at chosen voltages and their current read. Made before the time loop,
for it depends on drives only. A zone of concave sources gets its best point and a straight line
from there to open circuit, a thin table; a step whose floor lies on that line has its table
completed (`completing.py`). In other zones every table is full.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.solver.assembly import fill, fill_in
from copperpath.solver.best_voltage import best_concave, best_scanned
from copperpath.solver.cache import inner, merged, part
from copperpath.solver.circuit_arrays import BUFFERS, CIRCUIT
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.curve import CLOSE_V, NEAR, open_near, port_power, sweep
from copperpath.solver.places import Places, PlacesType, array


@inner
def port_shares(c: Any, w: Any, shares: Any) -> None:
    """What part of the power each port draws, right after `port_power`; equal parts if one of
    them draws nothing, as it hangs on another."""
    total, least = 0.0, 1e300
    for k in range(len(c.port)):
        amps = -w.rest[c.port[k]]
        shares[k] = amps
        total += amps
        least = min(least, amps)
    for k in range(len(c.port)):
        shares[k] = shares[k] / total if least > 1e-6 * total else 1.0 / len(c.port)


@dataclass(frozen=True, eq=False)
class Offering(Places):
    """What is read and written: drives (time, all slots'), tables (time, 2 * OFFER_POINTS), whether
    a table is full (time,), open-circuit voltages (time,) [V], 0 when dark, and the ports' shares
    (time, port)."""

    drives: Any = array(np.float64, 2)
    tables: Any = array(np.float64, 2)
    full: Any = array(np.int8)
    tops: Any = array(np.float64)
    shares: Any = array(np.float64, 2)


@merged
def open_voltage(c: Any, n: Any, known: int, job: Any, t: int, v: Any, w: Any) -> float:
    """Take a step's drives; its open-circuit voltage, 0 when dark. All but the table of a step in
    the light is filled in."""
    fill_in(w, c.drive, job.drives[t])
    fill(job.shares[t], 1.0 / len(c.port))
    job.full[t] = 1
    top = open_near(c, n, known, v, w)
    if not top > 0.5:
        points = job.tables[t]
        for k in range(OFFER_POINTS):
            points[k] = 0.5 * (k + 1.0) / OFFER_POINTS
            points[OFFER_POINTS + k] = 0.0
        n.best[3] = 0.0
        top = 0.0
    job.tops[t] = top
    return float(top)


@merged
def share_out(c: Any, job: Any, t: int, best: float, v: Any, w: Any) -> None:
    """The ports' shares at the best voltage."""
    if len(c.port) > 1:
        port_power(c, best, v, w)
        port_shares(c, w, job.shares[t])


@part(CIRCUIT, NEAR, PlacesType(Offering), BUFFERS)
def make_thin(c: Any, n: Any, job: Any, w: Any) -> int:
    """Best point and open circuit of every step of a zone of concave sources."""
    v = w.spare
    known = 0
    for t in range(len(job.tops)):
        top = open_voltage(c, n, known, job, t, v, w)
        if top > 0.0:
            best = best_concave(c, n, known, top, v, w)
            share_out(c, job, t, best, v, w)
            sweep(c, n, 0, 1, 0, best, 0.0, known, CLOSE_V, v, w)
            points, most = job.tables[t], n.power[0]
            for k in range(OFFER_POINTS):
                along = k / (OFFER_POINTS - 1.0)
                points[k] = best + (top - best) * along
                points[OFFER_POINTS + k] = most - most * along
            job.full[t] = 0
        known = 1 if top > 0.0 else 0
    return 0


@part(CIRCUIT, NEAR, PlacesType(Offering), BUFFERS)
def make_full(c: Any, n: Any, job: Any, w: Any) -> int:
    """The tables of every step of any zone."""
    v = w.spare
    known = 0
    for t in range(len(job.tops)):
        top = open_voltage(c, n, known, job, t, v, w)
        if top > 0.0:
            best = best_scanned(c, n, known, top, v, w)
            share_out(c, job, t, best, v, w)
            points, gap = job.tables[t], (top - best) / (OFFER_POINTS - 1.0)
            sweep(c, n, 0, OFFER_POINTS - 1, 0, best, gap, known, CLOSE_V, v, w)
            most = 0.0
            for k in range(OFFER_POINTS - 1, -1, -1):
                most = max(most, n.power[k] if k < OFFER_POINTS - 1 else 0.0)
                points[k] = best + (top - best) * k / (OFFER_POINTS - 1.0)
                points[OFFER_POINTS + k] = most
        known = 1 if top > 0.0 else 0
    return 0
