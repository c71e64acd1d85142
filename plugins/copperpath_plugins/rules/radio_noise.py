"""Noise of converters in receivers."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule

QUESTION = "converters-filtered"


class RadioNoise(Rule):
    """A question of the checklist; `confirm "converters-filtered"` answers it."""

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
        if any(each.kind == "converter" for each in inquiry.devices) and any(
            each.model.keying is not None for each in inquiry.devices
        ):
            if inquiry.confirmed(QUESTION):
                yield Reading("station", None)
                return
            message = "are the converters filtered, or 3 m from any antenna lead?"
            yield Reading("station", "note", message, open=True)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy(
            "both conductors through a ferrite at the converter, distance, a branch of its own"
        )
