"""Strings side by side that feed a faulted neighbour."""

from __future__ import annotations

import math
from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, LevelWord, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.panel_volts import is_panel

BRIGHT = 1.25
FUSE = 1.56
"""NEC 690.8: short-circuit current times 1.25 for bright light, and again for hours."""


class ParallelPanels(Rule):
    """(n - 1) times 1.25 times the short-circuit current, against the largest fuse marked on the
    panel."""

    interface = 1
    name = "parallel-panels"
    summary = "strings side by side push no more into a faulted one than its marked largest fuse"
    why = "all healthy strings feed the one with a fault: its cable or its junction box burns"
    limit_from = "published"
    source = "NEC 690.8 and 690.9; the largest fuse is marked on the panel (`largest_fuse`)"
    levels = ("danger", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for panel in inquiry.devices:
            if not is_panel(panel):
                continue
            strings = float(panel.values["parallel"])
            if strings < 2.0:
                continue
            amps = (strings - 1.0) * BRIGHT * float(panel.values["isc"])
            marked = float(panel.values.get("largest_fuse", math.nan))
            fused = float(panel.values.get("string_fuse", math.nan))
            if math.isfinite(fused):
                amps = min(amps, fused)
            if not math.isfinite(marked):
                message = (
                    f"{strings - 1.0:.0f} strings of `{panel.name}` push {amps:.1f} A into a "
                    "faulted one; `largest_fuse`, marked on the panel, is not given"
                )
                level: LevelWord | None = (
                    "warn" if strings >= 3.0 and not math.isfinite(fused) else None
                )
                yield Reading(panel.name, level, message, amps, None, "A")
                continue
            over = amps > marked + 1e-9
            message = (
                f"{strings - 1.0:.0f} strings of `{panel.name}` push {amps:.1f} A into a faulted "
                f"one, which is marked for a fuse of {marked:g} A at the most"
            )
            yield Reading(panel.name, "danger" if over else None, message, amps, marked, "A")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        panel = inquiry.device(reading.subject)
        least = FUSE * float(panel.values["isc"])
        if reading.limit is None:
            return Remedy("read `largest_fuse` from the label on the back of the panel")
        for rating in inquiry.fuse_ratings("blade"):
            if least <= rating <= reading.limit:
                words = f"a fuse of {rating:g} A in each string, made for the panels' volts"
                if "string_fuse" in panel.values:
                    return Remedy(words, (SetValue(panel.name, "string_fuse", rating),))
                return Remedy(words)
        return Remedy("fewer strings side by side, or panels marked for a larger fuse")
