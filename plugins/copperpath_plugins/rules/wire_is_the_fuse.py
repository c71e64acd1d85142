"""A fuse that lets more through than the wire behind it stands."""

from __future__ import annotations

import math
from collections.abc import Iterator

from copperpath.plugin_api import (
    CableView,
    Edit,
    Inquiry,
    Protection,
    Reading,
    Remedy,
    Rule,
    SetFuse,
    SetWire,
)
from copperpath_plugins.rules.fuse_sizes import (
    CONTINUOUS,
    SLACK_A,
    carries_mains,
    lasting_amps,
    peak_amps,
)


class WireIsTheFuse(Rule):
    """For every cable and every end at which current can come in, the smallest rating on its way
    against what the cable may carry."""

    interface = 1
    name = "wire-is-the-fuse"
    summary = "what protects a cable opens before the cable is overloaded, thin tails too"
    why = "otherwise the wire burns before the fuse opens"
    limit_from = "published"
    source = "ampacity tables: 33 CFR 183.425 / ABYC E-11 unless a cable says otherwise"
    levels = ("danger", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for cable in inquiry.cables:
            if not carries_mains(inquiry, cable):
                yield from _of(inquiry, cable)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        cable = inquiry.cable(reading.subject)
        protection = _worst(inquiry, cable)
        ampacity = inquiry.ampacity(cable)
        if protection is None or ampacity is None:
            return Remedy("give the cable's `wire`")
        least = max(CONTINUOUS * lasting_amps(inquiry, cable), peak_amps(inquiry, cable))
        fits = [
            rating
            for rating in inquiry.fuse_ratings(cable.facts.fuse_kind)
            if least - SLACK_A <= rating <= ampacity.amps + SLACK_A
        ]
        if fits:
            rating = fits[-1]
            own = next((fuse for fuse in cable.fuses if fuse.end == protection.end), None)
            within = None if own is None else own.within_m
            edit: Edit = SetFuse(cable.name, protection.end, rating, within)
            where = cable.start if protection.end == "start" else cable.end
            return Remedy(f"a fuse of {rating:g} A in `{cable.name}` at `{where}`", (edit,))
        for size in inquiry.larger_wires(cable):
            edit = SetWire(cable.name, size)
            larger = inquiry.edited(edit)
            found = larger.ampacity(larger.cable(cable.name))
            if found is not None and found.amps >= protection.rating_a:
                return Remedy(f"`{cable.name}` in {size}", (edit,))
        return Remedy("a thicker wire with a fuse that fits it")


def _worst(inquiry: Inquiry, cable: CableView) -> Protection | None:
    """Of all givers the one that lets most through."""
    found = inquiry.protection(cable)
    return found[0] if found else None


def _of(inquiry: Inquiry, cable: CableView) -> Iterator[Reading]:
    ampacity = inquiry.ampacity(cable)
    protection = _worst(inquiry, cable)
    if protection is None:
        return
    if ampacity is None:
        message = f"the size of `{cable.name}` is not given, so nobody knows what it may carry"
        yield Reading(cable.name, "warn", message)
        return
    at_store = any(inquiry.device(end.device).kind == "storage" for end in (cable.start, cable.end))
    if math.isinf(protection.rating_a):
        if at_store:
            # The rule on a fuse near each battery speaks of these.
            return
        message = (
            f"nothing opens `{cable.name}` if it is shorted: no fuse between it and "
            f"`{protection.giver}`, and it may carry {ampacity.amps:.0f} A"
        )
        yield Reading(cable.name, "danger", message, None, ampacity.amps, "A")
        return
    over = protection.rating_a > ampacity.amps + SLACK_A
    by = f"the fuse in `{protection.by}`"
    if protection.by == "itself":
        by = f"`{protection.giver}`, which gives no more,"
    elif protection.by == cable.name:
        by = "its fuse"
    message = (
        f"{by} lets {protection.rating_a:g} A through `{cable.name}` ({cable.wire}), which may "
        f"carry {ampacity.amps:.0f} A ({ampacity.words})"
    )
    yield Reading(
        cable.name,
        "danger" if over else None,
        message,
        protection.rating_a,
        ampacity.amps,
        "A",
    )
