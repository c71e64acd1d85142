"""The equations of `support.equations` for many sets of voltages at once, for stations of a
hundred nodes and more: slopes take one call in place of one for each node."""

from __future__ import annotations

import warnings
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

import numpy as np
from support.equations import (
    LEAK_S,
    Moment,
    Offer,
    bag,
    resistances,
    seeking,
    terminals_of,
)

from copperpath.plugin_api import FloatArray
from copperpath.station import Device, Station

STABLE_S = -1e-7
"""Zero, but for the rounding of eigenvalues; the leak alone gives 1e-9 S."""


@dataclass(frozen=True)
class _Given:
    """A device, what its law is given, and the rows of its terminals (-1 where there is none)."""

    device: Device
    port: str
    rows: tuple[tuple[str, int], ...]
    x: Any
    p: Any
    drives: dict[str, float]
    offer: Offer | None

    @staticmethod
    def at(device: Device, moment: Moment, row: dict[str, int]) -> _Given:
        """The device at a moment."""
        name = device.name
        return _Given(
            device,
            seeking(device),
            tuple((t, row.get(f"{name}.{t}", -1)) for t in terminals_of(device)),
            bag(moment.states.get(name, {})),
            bag(device.values),
            dict(moment.drives.get(name, {})),
            moment.offers.get(name),
        )

    def law(self, volts: FloatArray) -> Any:
        """What the law returns at these voltages (node, point)."""
        unknown, model = np.full(volts.shape[1], np.nan), self.device.model
        v = bag({t: unknown if row < 0 else volts[row] for t, row in self.rows})
        drives: dict[str, Any] = dict(self.drives)
        if self.offer is not None:
            floor = np.asarray(model.floor(v, self.x, bag({**drives, "offer": 0.0}), self.p))
            drives["offer"] = np.array([self.offer(float(each)) for each in floor])
        return model.law(v, self.x, bag(drives), self.p)


class Equations:
    """Kirchhoff's current law at the named nodes of a station at one moment, with the devices
    named in `off` taken off."""

    def __init__(
        self, station: Station, moment: Moment, names: list[str], off: Collection[str] = ()
    ) -> None:
        self.row = {name: place for place, name in enumerate(names)}
        self.plain = LEAK_S * np.eye(len(names))
        for start, end, ohm in resistances(station):
            if start in self.row:
                one, other = self.row[start], self.row[end]
                self.plain[[one, other], [one, other]] += 1.0 / ohm
                self.plain[[one, other], [other, one]] -= 1.0 / ohm
        self.devices = [
            _Given.at(device, moment, self.row)
            for device in station.devices
            if device.model.law is not None
            and device.name not in off
            and any(f"{device.name}.{t}" in self.row for t in terminals_of(device))
        ]

    def leaving(self, volts: FloatArray) -> FloatArray:
        """Current leaving each node (node, point) [A] at these voltages (node, point)."""
        total = self.plain @ volts
        for given in self.devices:
            for (terminal, row), value in zip(given.rows, given.law(volts), strict=True):
                if row >= 0:
                    watts = terminal == given.port and not np.all(value == 0.0)
                    total[row] += value / volts[row] if watts else value
        return np.asarray(total)

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
