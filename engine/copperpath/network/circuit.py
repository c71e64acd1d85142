"""A circuit: nodes, resistive branches and the devices with a law, as plain index tables.

A node's voltage is between its positive and negative conductor; a branch's resistance counts
both. Frozen data; `nodes.py` makes it, the solver reads it.
"""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.network.elimination import Elimination
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
    seeks: int
    """Index of the source-side zone behind its seeking terminal, -1 if it has none."""


@dataclass(frozen=True, slots=True)
class Circuit:
    """A connected problem of its own: the main network, or one source-side zone."""

    nodes: tuple[str, ...]
    """Names, `strip.1`; inner nodes too."""
    branches: tuple[Branch, ...]
    slots: tuple[Slot, ...]
    elimination: Elimination
    port: int = -1
    """For a zone: the node of the seeking terminal."""


@dataclass(frozen=True, slots=True)
class Network:
    """The main circuit and the source-side zones, solved apart (see the docs on method)."""

    main: Circuit
    zones: tuple[Circuit, ...]
