"""Where a generator stands."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule

QUESTION = "exhaust-outdoors"


class GeneratorOutdoors(Rule):
    """A question of the checklist; `confirm "exhaust-outdoors"` answers it."""

    interface = 1
    name = "generator-outdoors"
    summary = "a generator stands outdoors, six metres from openings, its exhaust away from people"
    why = "carbon monoxide kills without a smell, in tents and open sheds too"
    limit_from = "published"
    source = "CPSC: 20 ft (6 m) from windows, doors and vents; a CO alarm where people sleep"
    levels = ("danger",)
    asks = QUESTION

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            if device.model.name in ("generator", "fuel_cell"):
                answered = bool(inquiry.confirmed(QUESTION, device.name))
                message = (
                    f"does `{device.name}` stand outdoors, 6 m from any opening, its exhaust away "
                    "from people?"
                )
                yield Reading(
                    device.name, None if answered else "danger", message, open=not answered
                )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy("outdoors, 6 m from openings, exhaust away, a CO alarm; then `confirm` it")
