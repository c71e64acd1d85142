"""What rules ask of batteries: their kind, their cells, how cold they get."""

from __future__ import annotations

from copperpath.plugin_api import AmbientRule, DeviceView, Inquiry
from copperpath_plugins.rules.terminals import giving_at

LITHIUM = ("lfp", "lfp_measured", "lfp_heated", "lithium_ion")
LEAD = ("lead_acid",)


def stores_at(inquiry: Inquiry, terminal: str) -> list[DeviceView]:
    """Stores that wires join to a terminal."""
    joined = inquiry.joined(terminal)
    return [
        device
        for device in inquiry.devices
        if device.kind == "storage" and inquiry.supply_terminal(device.name) in joined
    ]


def coldest_cell_k(inquiry: Inquiry, store: DeviceView) -> float | None:
    """How cold a store gets in the coldest air [K]; None if its model does not say."""
    rule = store.values.get("temperature")
    if not isinstance(rule, AmbientRule):
        return None
    return rule.fixed_k if rule.fixed_k is not None else inquiry.air_low_k + rule.offset_k


def rated_amps(store: DeviceView) -> float:
    """The current that is its rated charge in an hour [A]."""
    return float(store.values["capacity"]) / 3600.0


def chargers_of(inquiry: Inquiry, store: DeviceView) -> list[tuple[DeviceView, str]]:
    """Converters that charge a store, with the full name of the terminal that does."""
    joined = inquiry.joined(inquiry.supply_terminal(store.name))
    return [
        (device, name)
        for device in inquiry.devices
        if device.kind == "converter" and "absorb" in device.values
        for name in giving_at(device, joined)
    ]
