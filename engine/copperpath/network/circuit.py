"""A circuit: nodes, resistive branches and the devices with a law, as plain index tables.

A node's voltage is between its positive and negative conductor; a branch's resistance counts
both. Frozen data; `nodes.py` makes it, the solver reads it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from copperpath.network.elimination import Elimination
from copperpath.plugin_api import FloatArray
from copperpath.station import Device

LEAST_OHM = 1e-5
"""Branches below this [ohm] are taken as this: ten micro-ohms lose 4 mW at 20 A, and rounding
in their current stays below a nanoampere."""


@dataclass(frozen=True, slots=True)
class Branch:
    """One plain resistance: a cable, or a way of a block. Current is positive start to end."""

    owner: str
    """Name of the cable or of the block."""
    is_cable: bool
    start: int
    end: int
    ohm: float


@dataclass(frozen=True, slots=True)
class Slot:
    """A device with a law, and the nodes its non-seeking terminals and inner nodes sit on."""

    device: Device
    nodes: tuple[int, ...]
    kept: tuple[int, ...]
    """The same, as places among the nodes that are solved."""
    seeks: int
    """Index of the seeking terminal, -1 if it has none."""


@dataclass(frozen=True, slots=True)
class Merged:
    """What is left of a circuit to solve; see `merging.py`.

    Attributes
    ----------
    nodes : tuple of int
        Nodes of the circuit that are solved.
    start, end : ndarray (branch,)
        Places among `nodes`.
    ohm : ndarray (branch,)
    first, second : ndarray (every node,)
        The solved nodes between which a node stands; both are its own place if it is solved.
    share : ndarray (every node,)
        How far it stands from `first` to `second`.
    across_first, across_second : ndarray (every branch,)
        The solved nodes between which a branch of the circuit lies.
    across_share : ndarray (every branch,)
        Which part of the voltage from one to the other lies over it; 0 where nothing flows.
    """

    nodes: tuple[int, ...]
    start: NDArray[np.int64]
    end: NDArray[np.int64]
    ohm: FloatArray
    first: NDArray[np.int64]
    second: NDArray[np.int64]
    share: FloatArray
    across_first: NDArray[np.int64]
    across_second: NDArray[np.int64]
    across_share: FloatArray


@dataclass(frozen=True, slots=True)
class Circuit:
    """A connected problem of its own: the main network, or one source-side zone."""

    nodes: tuple[str, ...]
    """Names, `strip.1`; inner nodes too."""
    branches: tuple[Branch, ...]
    slots: tuple[Slot, ...]
    merged: Merged
    elimination: Elimination
    """Of the nodes that are solved."""
    start_v: tuple[float, ...]
    """Where each solved node starts [V]: at or above the highest voltage that anything puts out
    on what hangs together with it by wires."""
    ports: tuple[int, ...] = ()
    """For a zone: the nodes of the seeking terminals, several if they share their panels."""

    def spread(self, solved: FloatArray, node: int) -> FloatArray:
        """Voltage of one node from the voltages (..., solved node)."""
        merged = self.merged
        first: FloatArray = solved[..., merged.first[node]]
        if merged.first[node] == merged.second[node]:
            return first
        second = solved[..., merged.second[node]]
        return np.asarray(first + merged.share[node] * (second - first))

    def across(self, solved: FloatArray, branch: int) -> FloatArray:
        """Voltage from the start of a branch to its end, from the voltages (..., solved node).
        Of a row of merged branches each has its part of the whole, so that one current flows."""
        merged = self.merged
        whole = solved[..., merged.across_first[branch]] - solved[..., merged.across_second[branch]]
        return np.asarray(merged.across_share[branch] * whole)

    def spread_all(self, solved: FloatArray) -> FloatArray:
        """Voltages (..., node) of all nodes from the voltages (..., solved node)."""
        merged = self.merged
        first, second = solved[..., merged.first], solved[..., merged.second]
        return np.asarray(first + merged.share * (second - first))


@dataclass(frozen=True, slots=True)
class Network:
    """The main circuit and the source-side zones, solved apart (see the docs on method)."""

    main: Circuit
    zones: tuple[Circuit, ...]
    seekers: tuple[tuple[int, int], ...]
    """For each seeking terminal: its zone, and which of the zone's ports it is."""
