"""Volts across a fuse that has opened."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import CableView, FuseView, Inquiry, Reading, Remedy, Rule, SetFact
from copperpath_plugins.rules.panel_volts import highest_volts

CLASSES_V = (32.0, 58.0, 80.0, 125.0, 250.0, 600.0, 1000.0)
"""Voltages that dc fuses are made for: common practice, no source."""


class FuseVoltage(Rule):
    """Voltage for which a fuse is made against the highest that can stand there."""

    interface = 1
    name = "fuse-voltage"
    summary = "each fuse is made for the highest voltage that can stand across it"
    why = "a fuse for fewer volts goes on arcing after it has opened"
    limit_from = "the file"
    source = "the voltage that the file gives for the fuse, else what its kind is usually made for"
    levels = ("danger",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for cable in inquiry.cables:
            for fuse in cable.fuses:
                reading = _of(inquiry, cable, fuse)
                if reading is not None:
                    yield reading

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        volts = reading.value or 0.0
        fits = next((each for each in CLASSES_V if each >= volts), None)
        if fits is None:
            return Remedy("a lower voltage there")
        edit = SetFact(reading.subject, "fuse_voltage_v", fits)
        return Remedy(f"a dc fuse made for {fits:.0f} V", (edit,))


def _of(inquiry: Inquiry, cable: CableView, fuse: FuseView) -> Reading | None:
    kind = inquiry.fuse_breaks(cable.facts.fuse_kind)
    made_for = cable.facts.fuse_voltage_v
    if made_for is None and kind is not None:
        made_for = kind.volts
    if made_for is None:
        return None
    ends = (str(cable.start), str(cable.end))
    volts = max(highest_volts(inquiry, end) for end in ends)
    over = volts > made_for + 1e-9
    message = (
        f"up to {volts:.1f} V can stand across the fuse in `{cable.name}`, which is made for "
        f"{made_for:.0f} V"
    )
    return Reading(
        cable.name,
        "danger" if over else None,
        message,
        volts,
        made_for,
        "V",
        fuse.end,
    )
