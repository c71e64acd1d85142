"""A battery that its own board has shut off, and nothing wakes."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.stores import LITHIUM, stores_at

SPARE_V = 0.5
LONG_S = 7.0 * 86_400.0


class LockedOut(Rule):
    """A disconnect that opens half a volt above the board's cut-off; asked of long runs."""

    interface = 1
    name = "locked-out"
    summary = "loads are cut off half a volt before a lithium battery's board shuts it off"
    why = "once the board opens its terminals read nothing, no controller starts, the site is dead"
    limit_from = "common practice"
    source = "0.5 to 1 V above the board's cut-off"
    levels = ("fail", "note")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        savers = [each for each in inquiry.devices if each.model.name == "disconnect"]
        for store in inquiry.devices:
            if store.model.name not in LITHIUM:
                continue
            cutoff = float(store.values["cutoff_voltage"])
            wanted = cutoff + SPARE_V
            own = [each for each in savers if store in stores_at(inquiry, f"{each.name}.line")]
            if not own:
                long = inquiry.lasts_s > LONG_S
                message = (
                    f"nothing cuts the loads off before the board of `{store.name}` does at "
                    f"{cutoff:.1f} V"
                )
                yield Reading(store.name, "fail" if long else "note", message, None, wanted, "V")
            for saver in own:
                off = float(saver.values["off"])
                low = off < wanted - 1e-9
                message = (
                    f"`{saver.name}` opens at {off:.2f} V and the board of `{store.name}` at "
                    f"{cutoff:.2f} V; {SPARE_V} V between them are wanted"
                )
                yield Reading(
                    store.name,
                    "fail" if low else None,
                    message,
                    off,
                    wanted,
                    "V",
                    saver.name,
                )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        wanted = reading.limit or 0.0
        if not reading.place:
            return Remedy(f"a `disconnect` before the loads with `off` at {wanted + 0.3:.1f} V")
        saver = inquiry.device(reading.place)
        higher = wanted - float(saver.values["off"])
        edits = tuple(
            SetValue(saver.name, name, float(saver.values[name]) + higher) for name in ("off", "on")
        )
        return Remedy(f"`off` of `{saver.name}` at {wanted:.2f} V", edits)
