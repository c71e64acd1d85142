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
        sizes = _tried_sizes(inquiry, name)
        tried = inquiry.in_sizes(name, sizes, *edits)
        # What the largest does not bring no smaller one does.
        if sizes and enough(tried[-1]):
            size = next(size for size, larger in zip(sizes, tried, strict=True) if enough(larger))
            edit = SetWire(name, size)
            return Remedy(" and ".join([*words, f"`{name}` in {size}"]), (*edits, edit))
        if sizes:
            edits.append(SetWire(name, sizes[-1]))
            words.append(f"`{name}` in {sizes[-1]}")
    return None


def _tried_sizes(inquiry: Inquiry, name: str) -> list[str]:
    """Larger standard sizes of a cable, up to those that nobody would fit there."""
    own = inquiry.cable(name).area_m2
    found: list[str] = []
    for size in inquiry.larger_wires(inquiry.cable(name)):
        area = inquiry.edited(SetWire(name, size)).cable(name).area_m2
        if own is not None and area is not None and area > MOST_TIMES * own:
            break
        found.append(size)
    return found


def grown_for_volts(inquiry: Inquiry, subject: str, wanted_v: float, otherwise: str) -> Remedy:
    """Larger wires on the way to a device that give it so many volts at the worst instant, or what
    else to do where none do [V]."""
    terminal = inquiry.supply_terminal(subject)
    feed = inquiry.feed(terminal)
    found = None
    if feed is not None:
        found = grown_wires(
            inquiry, feed.cables, lambda tried: tried.low.volts.get(terminal, 0.0) >= wanted_v
        )
    return found or Remedy(otherwise)
