"""Joints and holders that only a test finds."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.questions import asked_of_station

QUESTION = "holders-tested"


class HoldersTested(Rule):
    """A question of the checklist; `confirm "holders-tested"` answers it."""

    interface = 1
    name = "holders-tested"
    summary = "every fuse holder and screw was tested before use"
    why = "set-screws work loose, and a holder may conduct with no fuse in it"
    limit_from = "common practice"
    source = ""
    levels = ("note",)
    asks = QUESTION

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        if any(cable.fuses for cable in inquiry.cables):
            message = "was each fuse pulled once and 0 V read behind it, each screw tightened?"
            yield from asked_of_station(inquiry, QUESTION, "note", message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("pull each fuse, expect 0 V behind it; tighten each screw; then `confirm` it")
