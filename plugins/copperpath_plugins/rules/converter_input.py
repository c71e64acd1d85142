"""Volts at the input of a converter at the worst instant."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, LevelWord, Reading, Remedy, Rule
from copperpath_plugins.rules.least_volts import least_volts_of
from copperpath_plugins.rules.wire_growth import grown_for_volts

SPARE_V = 0.3
STEP_DOWN_V = 1.0


class ConverterInput(Rule):
    """Its least input, and for a step-down its output and a volt more."""

    interface = 1
    name = "converter-input"
    summary = "each converter has its least input voltage at the worst instant, with 0.3 V to spare"
    why = "a converter that drops out takes everything behind it along"
    limit_from = "the file"
    source = "its least input; a step-down needs 1 V above its output, common practice"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        volts_at = inquiry.low.volts
        for device in inquiry.devices:
            least = least_volts_of(device)
            if device.kind != "converter" or least is None:
                continue
            terminal = inquiry.supply_terminal(device.name)
            if terminal not in volts_at:
                continue
            why = "its least input"
            if device.model.name == "step_down":
                headroom = float(device.values["output"]) + STEP_DOWN_V
                if headroom > least:
                    least, why = headroom, f"{STEP_DOWN_V:g} V above its output"
            volts = volts_at[terminal]
            spare = volts - least
            level: LevelWord | None = (
                None if spare >= SPARE_V else "fail" if spare < 0.0 else "warn"
            )
            message = f"`{device.name}` has {volts:.2f} V at its input; {why} is {least:.2f} V"
            yield Reading(device.name, level, message, volts, least + SPARE_V, "V")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        wanted = reading.limit or 0.0
        otherwise = "a converter that raises and lowers, or one for fewer volts"
        return grown_for_volts(inquiry, reading.subject, wanted, otherwise)
