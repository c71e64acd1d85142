"""A fuse upstream that may open before the one it feeds."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from copperpath.plugin_api import CableView, FuseView, Inquiry, Reading, Remedy, Rule, SetFuse

RATIO = 1.6


class MainOpensFirst(Rule):
    """Ratings of neighbouring fuses on each way, of batteries side by side all together."""

    interface = 1
    name = "main-opens-first"
    summary = "each fuse is rated 1.6 times the next one towards the load at least"
    why = "a fault in one branch otherwise takes all of them off the air"
    limit_from = "common practice"
    source = "1.6 to 2 between fuses of one family; no standard"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        seen = set()
        for device in inquiry.devices:
            feed = None
            if device.kind in ("load", "converter"):
                feed = inquiry.feed(inquiry.supply_terminal(device.name))
            if feed is None:
                continue
            fuses = [(name, f) for name in feed.cables for f in inquiry.cable(name).fuses]
            for (upper, main), (lower, branch) in pairwise(fuses):
                if upper != lower and (upper, lower) not in seen:
                    seen.add((upper, lower))
                    yield _of(inquiry, inquiry.cable(upper), main, inquiry.cable(lower), branch)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        upper, lower = inquiry.cable(reading.subject), inquiry.cable(reading.place)
        wanted = RATIO * max(fuse.rating_a for fuse in lower.fuses)
        ampacity = inquiry.ampacity(upper)
        own = upper.fuses[-1]
        for rating in inquiry.fuse_ratings(upper.facts.fuse_kind):
            if rating >= wanted - 1e-9:
                if ampacity is None or rating <= ampacity.amps:
                    edit = SetFuse(upper.name, own.end, rating, own.within_m)
                    return Remedy(f"{rating:g} A in `{upper.name}`", (edit,))
                break
        return Remedy("a smaller branch fuse if its load allows, or a thicker main")


def _of(
    inquiry: Inquiry, upper: CableView, main: FuseView, lower: CableView, branch: FuseView
) -> Reading:
    rating = main.rating_a
    ends = [inquiry.device(end.device) for end in (upper.start, upper.end)]
    if any(end.kind == "storage" for end in ends):
        joined = inquiry.joined(str(upper.start))
        several = [
            device
            for device in inquiry.devices
            if device.kind == "storage" and inquiry.supply_terminal(device.name) in joined
        ]
        rating *= max(len(several), 1)
    ratio = rating / branch.rating_a
    low = ratio < RATIO - 1e-9
    message = (
        f"{rating:g} A in `{upper.name}` is {ratio:.2f} times the {branch.rating_a:g} A in "
        f"`{lower.name}`: either may open first"
    )
    return Reading(
        upper.name,
        "warn" if low else None,
        message,
        ratio,
        RATIO,
        "times",
        lower.name,
    )
