"""What is offered to the seeking terminals of a run, and what its tables are completed with.

The tables are the run's own: the loop makes full those that it looks at above the best voltage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from copperpath.plugin_api import FloatArray
from copperpath.solver.circuit_arrays import SUPPLY, Workspace
from copperpath.solver.completing import Completing, complete
from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.curve import Near, near
from copperpath.solver.flatten import FlatCircuit
from copperpath.solver.offer_memory import Offers


@dataclass(frozen=True, slots=True)
class Supplies:
    """Of all seekers, the tables, points (time, seeker, 2 * OFFER_POINTS), and whether they are
    full (time, seeker); how each is completed, as rows of SUPPLY by seeker; and what stands at
    the addresses in those rows."""

    points: FloatArray
    full: np.ndarray
    rows: np.ndarray
    kept: tuple[tuple[FlatCircuit, Near, Completing, Workspace], ...]

    def complete(self, steps: Iterable[int]) -> None:
        """Make the tables of these steps full."""
        for step in steps:
            for seeker in np.flatnonzero(self.full[step, : len(self.rows)] == 0):
                row = self.rows[seeker]
                if self.full[step, seeker] == 0:  # ports of one zone are completed together
                    complete(*row.tolist()[1:], int(step))


def supplies(
    zones: tuple[FlatCircuit, ...],
    offers: list[Offers],
    seekers: tuple[tuple[int, int], ...],
    steps: int,
) -> Supplies:
    """Tables from the zones' offers, `seekers` in their order: zone and port of each."""
    points = np.zeros((steps, max(len(seekers), 1), 2 * OFFER_POINTS))
    full = np.ones((steps, max(len(seekers), 1)), dtype=np.int8)
    rows = np.zeros(len(seekers), dtype=SUPPLY)
    for seeker, (zone, port) in enumerate(seekers):
        points[:, seeker] = offers[zone].tables
        if offers[zone].shares.shape[1] > 1:
            points[:, seeker, OFFER_POINTS:] *= offers[zone].shares[:, port, None]
        full[:, seeker] = offers[zone].full
    kept = []
    for zone, flat in enumerate(zones):
        if offers[zone].full.all():
            continue
        ports = {port: seeker for seeker, (at, port) in enumerate(seekers) if at == zone}
        order = np.array([ports[port] for port in range(len(ports))], dtype=np.int64)
        job = Completing(flat.drives, offers[zone].shares, order, points, full)
        remembered, buffers = near(flat.arrays.nodes), flat.workspace()
        kept.append((flat, remembered, job, buffers))
        rows[order] = (
            complete.address,
            flat.arrays.address,
            remembered.address,
            job.address,
            buffers.address,
        )
    return Supplies(points, full, rows, tuple(kept))
