"""The equations of `support.equations` for many sets of voltages at once, for stations of a
hundred nodes and more: slopes take one call in place of one for each node."""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
from support.equations import LEAK_S, Moment, bag, resistances, seeking, terminals_of

from copperpath.plugin_api import FloatArray
from copperpath.station import Device, Station

STABLE_S = -1e-7
"""Zero, but for the rounding of eigenvalues; the leak alone gives 1e-9 S."""


class Equations:
    """Kirchhoff's current law at the named nodes of a station at one moment."""

    def __init__(self, station: Station, moment: Moment, names: list[str]) -> None:
        self.station, self.moment = station, moment
        self.row = {name: place for place, name in enumerate(names)}
        self.plain = LEAK_S * np.eye(len(names))
        for start, end, ohm in resistances(station):
            if start in self.row:
                one, other = self.row[start], self.row[end]
                self.plain[[one, other], [one, other]] += 1.0 / ohm
                self.plain[[one, other], [other, one]] -= 1.0 / ohm
        self.devices = [
            device
            for device in station.devices
            if device.model.law is not None
            and any(f"{device.name}.{t}" in self.row for t in terminals_of(device))
        ]

    def leaving(self, volts: FloatArray) -> FloatArray:
        """Current leaving each node (node, point) [A] at these voltages (node, point)."""
        total = self.plain @ volts
        for device in self.devices:
            port = f"{device.name}.{seeking(device)}"
            names = [f"{device.name}.{terminal}" for terminal in terminals_of(device)]
            for name, value in zip(names, self._law(device, volts), strict=True):
                if name in self.row:
                    watts = name == port and not np.all(value == 0.0)
                    row = self.row[name]
                    total[row] += value / volts[row] if watts else value
        return np.asarray(total)

    def _law(self, device: Device, volts: FloatArray) -> Any:
        unknown = np.full(volts.shape[1], np.nan)
        rows = {t: self.row.get(f"{device.name}.{t}", -1) for t in terminals_of(device)}
        v = bag({t: unknown if row < 0 else volts[row] for t, row in rows.items()})
        x, p = bag(self.moment.states.get(device.name, {})), bag(device.values)
        drives: dict[str, Any] = dict(self.moment.drives.get(device.name, {}))
        if device.name in self.moment.offers:
            floor = np.asarray(device.model.floor(v, x, bag({**drives, "offer": 0.0}), p))
            offer = self.moment.offers[device.name]
            drives["offer"] = np.array([offer(float(each)) for each in floor])
        return device.model.law(v, x, bag(drives), p)

    def slopes(self, volts: FloatArray, width: float) -> FloatArray:
        """How the leaving currents (row) move with the voltages (column) [S]."""
        here = self.leaving(volts[:, None])
        there = self.leaving(volts[:, None] + width * np.eye(len(volts)))
        return (there - here) / width

    def lowest_eigenvalue(self, volts: FloatArray) -> float:
        """Lowest real part among the eigenvalues of the slopes [S], the better of both sides: a
        point may sit on a corner, and is stable if the voltages fall back to it on one side."""
        sides = [self.slopes(volts, width) for width in (1e-6, -1e-6)]
        return max(float(np.linalg.eigvals(side).real.min()) for side in sides)

    def root_from(self, start: FloatArray) -> FloatArray | None:
        """What general root finding makes of the equations from `start`, None if it gives up."""
        from scipy.optimize import root

        with warnings.catch_warnings(), np.errstate(all="ignore"):
            warnings.simplefilter("ignore")
            found = root(
                lambda volts: self.leaving(volts[:, None])[:, 0],
                start,
                jac=lambda volts: self.slopes(volts, 1e-7),
                method="hybr",
                options={"xtol": 1e-13, "maxfev": 2000},
            )
            left = np.abs(self.leaving(found.x[:, None])).max()
        return np.asarray(found.x) if left < 1e-9 else None
