"""What lightning finds."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.questions import asked_of_station

QUESTION = "lightning"


class Lightning(Rule):
    """A question of the checklist; `confirm "lightning"` answers it."""

    interface = 1
    name = "lightning"
    summary = "an unattended site is bonded at one point with arresters, an attended one is left"
    why = "a near strike comes in by the mast, the panels and the data leads"
    limit_from = "published"
    source = "IEC 62305"
    levels = ("warn",)
    asks = QUESTION

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        if any(each.model.keying is not None for each in inquiry.devices):
            message = (
                "what is done about lightning (leave and disconnect, or one bond point with "
                "arresters on every conductor)?"
            )
            yield from asked_of_station(inquiry, QUESTION, "warn", message)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy(
            "attended: disconnect and leave; unattended: one bond point, arresters on each lead"
        )
