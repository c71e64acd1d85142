"""Passive nodes are merged before a run: what carries one current needs one resistance.

A node that only branches meet is left out of the equations if two branches meet there (their
resistances add) or one (nothing flows). Its voltage comes back by division. Found again node by
node, so a row of joints, or a whole unused arm of a strip, goes in one sweep.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from copperpath.network.circuit import Branch, Merged


@dataclass(slots=True)
class _Resistance:
    """A branch, or a row of branches merged into one."""

    start: int
    end: int
    ohm: float


def merge(count: int, branches: Sequence[Branch], kept: Iterable[int]) -> Merged:
    """The circuit of `count` nodes without those that can be left out.

    Parameters
    ----------
    count : int
        Nodes of the circuit.
    branches : sequence of Branch
    kept : iterable of int
        Nodes that may not be left out: those of devices, and a port.
    """
    fixed = set(kept)
    live = {place: _Resistance(b.start, b.end, b.ohm) for place, b in enumerate(branches)}
    meets: list[set[int]] = [set() for _ in range(count)]
    for place, branch in live.items():
        meets[branch.start].add(place)
        meets[branch.end].add(place)
    gone: dict[int, tuple[int, int, float]] = {}
    waiting = [node for node in range(count) if node not in fixed]
    while waiting:
        node = waiting.pop()
        if node in gone or not 1 <= len(meets[node]) <= 2:
            continue
        places = sorted(meets[node])
        ends = [_other(live[place], node) for place in places]
        first, last = ends[0], ends[-1]
        total = sum(live[place].ohm for place in places)
        gone[node] = (first, last, live[places[0]].ohm / total)
        for place, end in zip(places, ends, strict=True):
            meets[end].discard(place)
            del live[place]
        if first != last:
            live[places[0]] = _Resistance(first, last, total)
            meets[first].add(places[0])
            meets[last].add(places[0])
        waiting += [end for end in {first, last} if end not in fixed]
    return _merged(count, branches, list(live.values()), gone)


def _other(branch: _Resistance, node: int) -> int:
    return branch.end if branch.start == node else branch.start


def _merged(
    count: int,
    branches: Sequence[Branch],
    live: list[_Resistance],
    gone: dict[int, tuple[int, int, float]],
) -> Merged:
    kept = [node for node in range(count) if node not in gone]
    place = {node: index for index, node in enumerate(kept)}
    first, second, share = _ints(count), _ints(count), np.zeros(count)
    for node in kept:
        first[node] = second[node] = place[node]
    # The last to go stands between nodes that stayed; those before it lean on it.
    for node, (one, other, part) in reversed(gone.items()):
        weights: dict[int, float] = {}
        for end, weight in ((one, 1.0 - part), (other, part)):
            for at, own in ((first[end], 1.0 - share[end]), (second[end], share[end])):
                weights[int(at)] = weights.get(int(at), 0.0) + weight * float(own)
        ends = sorted(at for at, weight in weights.items() if weight != 0.0)
        first[node], second[node] = ends[0], ends[-1]
        share[node] = weights[ends[-1]] if len(ends) > 1 else 0.0
    across = [_across(b, first, second, share) for b in branches]
    return Merged(
        nodes=tuple(kept),
        start=_ints_of(place[b.start] for b in live),
        end=_ints_of(place[b.end] for b in live),
        ohm=np.array([b.ohm for b in live], dtype=np.float64),
        first=first,
        second=second,
        share=share,
        across_first=_ints_of(one for one, _, _ in across),
        across_second=_ints_of(other for _, other, _ in across),
        across_share=np.array([part for _, _, part in across], dtype=np.float64),
    )


def _across(
    branch: Branch, first: NDArray[np.int64], second: NDArray[np.int64], share: NDArray[np.float64]
) -> tuple[int, int, float]:
    """Solved nodes on both sides of a branch, and its part of the voltage between them."""
    ends = sorted(
        {int(leans[node]) for node in (branch.start, branch.end) for leans in (first, second)}
    )
    one, other = ends[0], ends[-1]

    def along(node: int) -> float:
        """How far a node stands from `one` to `other`."""
        if first[node] == second[node]:
            return 0.0 if first[node] == one else 1.0
        return float(share[node])

    return one, other, along(branch.end) - along(branch.start)


def _ints(count: int) -> NDArray[np.int64]:
    return np.zeros(count, dtype=np.int64)


def _ints_of(values: Iterable[int]) -> NDArray[np.int64]:
    return np.array(list(values), dtype=np.int64)
