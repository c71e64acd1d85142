"""Noise of converters in receivers."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.questions import asked_together

QUESTION = "converters-filtered"


class RadioNoise(Rule):
    """A question of the checklist, one for all converters; `confirm "converters-filtered"` answers
    it, in the station or in each converter."""

    interface = 1
    name = "radio-noise"
    summary = "converters near antennas are filtered, or stand 3 m away"
    why = "what switches radiates: the receiver hears the controller and not the caller"
    limit_from = "common practice"
    source = "3 m is our own choice"
    levels = ("note",)
    asks = QUESTION

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        converters = [each.name for each in inquiry.devices if each.kind == "converter"]
        if not converters or all(each.model.keying is None for each in inquiry.devices):
            return
        message = "are these filtered, or 3 m from any antenna lead: {names}?"
        yield from asked_together(inquiry, QUESTION, "note", converters, message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy(
            "both conductors through a ferrite at the converter, distance, a branch of its own; "
            f'then `confirm "{QUESTION}"`'
        )
