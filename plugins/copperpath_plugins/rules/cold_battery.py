"""Lithium cells too cold to be charged."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule
from copperpath_plugins.rules.stores import LITHIUM, chargers_of, coldest_cell_k

REDUCED_K = 5.0


class ColdBattery(Rule):
    """The coldest cell, not the coldest air, against the temperature below which it refuses."""

    interface = 1
    name = "cold-battery"
    summary = "lithium cells stay warm enough to be charged in the coldest air"
    why = "a cold battery refuses charge and goes on giving: it dies with the sun shining"
    limit_from = "the file"
    source = "no charge at or below 0 degC, often reduced below 5 degC: common practice"
    levels = ("fail", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for store in inquiry.devices:
            if store.kind != "storage" or store.model.name not in LITHIUM:
                continue
            cell = coldest_cell_k(inquiry, store)
            if cell is None or not chargers_of(inquiry, store):
                continue
            least = float(store.values["charge_above"])
            celsius, limit = cell - 273.15, least - 273.15
            if cell >= least + REDUCED_K:
                yield Reading(store.name, None, "", celsius, limit + REDUCED_K, "degC")
                continue
            refuses = cell <= least
            message = f"the cells of `{store.name}` get as cold as {celsius:.0f} degC; " + (
                f"at or below {limit:.0f} degC they take no charge"
                if refuses
                else f"below {limit + REDUCED_K:.0f} degC many take less than their rated charge"
            )
            yield Reading(
                store.name,
                "fail" if refuses else "warn",
                message,
                celsius,
                limit + REDUCED_K,
                "degC",
            )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy(
            "carry it warm, insulate it, heat it from surplus sun only, or take lead-acid; and "
            "more reserve"
        )
