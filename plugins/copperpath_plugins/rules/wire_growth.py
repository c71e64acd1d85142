"""The smallest larger wires on a way that bring a load what it lacks."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from copperpath.plugin_api import Edit, Inquiry, Remedy, SetWire

Enough = Callable[[Inquiry], bool]

MOST_TIMES = 8.5
"""How many times as thick a wire is tried at the most: still thicker ones fit no contact that is
there now (our own choice)."""


def grown_wires(inquiry: Inquiry, cables: Sequence[str], enough: Enough) -> Remedy | None:
    """The cable that loses most in the smallest size that is enough; if none is, that one in the
    largest size tried and the next one too. None if all together are not enough."""
    losses = {
        name: abs(inquiry.low.amps.get(name, 0.0)) * inquiry.cable(name).wire_ohm for name in cables
    }
    edits: list[Edit] = []
    words: list[str] = []
    for name in sorted(losses, key=lambda each: -losses[each]):
        own, largest = inquiry.cable(name).area_m2, ""
        for size in inquiry.larger_wires(inquiry.cable(name)):
            edit = SetWire(name, size)
            tried = inquiry.edited(*edits, edit)
            area = tried.cable(name).area_m2
            if own is not None and area is not None and area > MOST_TIMES * own:
                break
            if enough(tried):
                return Remedy(" and ".join([*words, f"`{name}` in {size}"]), (*edits, edit))
            largest = size
        if largest:
            edits.append(SetWire(name, largest))
            words.append(f"`{name}` in {largest}")
    return None
