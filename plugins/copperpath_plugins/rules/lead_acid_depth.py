"""Lead-acid discharged too deep, or frozen."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.stores import LEAD, coldest_cell_k

DEPTH = 0.5
FLAT_FREEZES_C = -9.0
AT_40_FREEZES_C = -20.0


class LeadAcidDepth(Rule):
    """Reserve of a half, and the freezing point at the lowest planned charge.

    Acid freezes near -9 °C when flat and near -20 °C at 40 % charge (from memory); a straight
    line between and beyond.
    """

    interface = 1
    name = "lead-acid-depth"
    summary = "lead-acid keeps half its charge and does not freeze at its lowest planned charge"
    why = "deep discharge takes years of its life; frozen acid bursts the case"
    limit_from = "common practice"
    source = "half its charge; freezing points from memory"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for store in inquiry.devices:
            if store.model.name not in LEAD:
                continue
            reserve = float(store.values["reserve"])
            low = reserve < DEPTH - 1e-9
            message = (
                f"`{store.name}` is planned down to {100.0 * reserve:.0f} % of its charge; "
                f"lead-acid lasts when it keeps {100.0 * DEPTH:.0f} %"
            )
            yield Reading(
                store.name,
                "warn" if low else None,
                message,
                100.0 * reserve,
                100.0 * DEPTH,
                "%",
                "depth",
            )
            cell = coldest_cell_k(inquiry, store)
            if cell is None:
                continue
            celsius, freezes = cell - 273.15, freezing_c(reserve)
            frozen = celsius <= freezes
            message = (
                f"`{store.name}` at its lowest planned charge freezes near {freezes:.0f} degC and "
                f"may get as cold as {celsius:.0f} degC"
            )
            yield Reading(
                store.name,
                "fail" if frozen else None,
                message,
                celsius,
                freezes,
                "degC",
                "frost",
            )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        wanted = DEPTH
        if reading.place == "frost":
            wanted = charge_freezing_at(reading.value or 0.0) + 0.05
        if wanted > 1.0:
            return Remedy("keep it warmer")
        words = f"`reserve {100.0 * wanted:.0f} %`, with a larger battery if that is too little"
        return Remedy(words, (SetValue(reading.subject, "reserve", wanted),))


def freezing_c(charge: float) -> float:
    """Freezing point of the acid at a charge [°C]."""
    return FLAT_FREEZES_C + (AT_40_FREEZES_C - FLAT_FREEZES_C) * charge / 0.4


def charge_freezing_at(celsius: float) -> float:
    """Charge at which the acid freezes at a temperature, of 1."""
    return 0.4 * (celsius - FLAT_FREEZES_C) / (AT_40_FREEZES_C - FLAT_FREEZES_C)
