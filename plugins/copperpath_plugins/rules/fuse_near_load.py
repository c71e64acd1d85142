"""A fuse that opens though nothing is wrong."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import (
    CableView,
    Edit,
    FuseView,
    Inquiry,
    Reading,
    Remedy,
    Rule,
    SetFuse,
    SetWire,
)
from copperpath_plugins.rules.fuse_sizes import CONTINUOUS, SLACK_A, lasting_amps, peak_amps


class FuseNearLoad(Rule):
    """Rating against a quarter more than what flows for as long as radios send."""

    interface = 1
    name = "fuse-near-load"
    summary = "each fuse is rated for a quarter more than what flows for long, and for the peak"
    why = "a fuse near its rating gets warm, ages and opens in the middle of a message"
    limit_from = "published"
    source = "NEC 210.20(A), 125 % of what flows for hours; FM and data count as that"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for cable in inquiry.cables:
            for fuse in cable.fuses:
                yield _of(inquiry, cable, fuse)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        cable = inquiry.cable(reading.subject)
        own = next(fuse for fuse in cable.fuses if fuse.end == reading.place)
        least = (reading.limit or 0.0) - SLACK_A
        ratings = inquiry.fuse_ratings(cable.facts.fuse_kind)
        rating = next((each for each in ratings if each >= least), None)
        if rating is None:
            return Remedy("two feeds in place of one")
        edits: list[Edit] = [SetFuse(cable.name, own.end, rating, own.within_m)]
        words = f"a fuse of {rating:g} A"
        ampacity = inquiry.ampacity(cable)
        if ampacity is not None and ampacity.amps < rating:
            for size in inquiry.larger_wires(cable):
                edit = SetWire(cable.name, size)
                larger = inquiry.edited(edit)
                found = larger.ampacity(larger.cable(cable.name))
                if found is not None and found.amps >= rating:
                    return Remedy(f"{words}, and `{cable.name}` in {size}", (*edits, edit))
            return Remedy("two feeds in place of one")
        return Remedy(words, tuple(edits))


def _of(inquiry: Inquiry, cable: CableView, fuse: FuseView) -> Reading:
    lasting, peak = lasting_amps(inquiry, cable), peak_amps(inquiry, cable)
    wanted = max(CONTINUOUS * lasting, peak)
    if fuse.rating_a >= wanted - SLACK_A:
        return Reading(cable.name, None, "", fuse.rating_a, wanted, "A", fuse.end)
    small = fuse.rating_a < lasting - SLACK_A
    flows = f"{lasting:.1f} A flow through it for long"
    if peak > CONTINUOUS * lasting:
        flows = f"{peak:.1f} A flow through it at the worst instant"
    message = (
        f"the fuse of {fuse.rating_a:g} A in `{cable.name}` is small: {flows}, so that "
        f"{wanted:.1f} A are wanted"
    )
    return Reading(
        cable.name, "fail" if small else "warn", message, fuse.rating_a, wanted, "A", fuse.end
    )
