"""More volts than a load takes, while the battery is charged."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.charge_profile import absorb_of
from copperpath_plugins.rules.least_volts import most_volts_of
from copperpath_plugins.rules.stores import stores_at
from copperpath_plugins.rules.terminals import giving_at


class VoltsWhileCharging(Rule):
    """Highest charging voltage less a drop of nothing, as nothing flows to what is off."""

    interface = 1
    name = "volts-while-charging"
    summary = "no load and no converter sees more volts than it takes while batteries are charged"
    why = "too many volts destroy what hangs there; a charger's equalising goes above 15 V"
    limit_from = "the file"
    source = "the highest voltage the file gives for the load or the converter"
    levels = ("danger",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device in inquiry.devices:
            most = most_volts_of(device)
            if device.kind not in ("load", "converter") or most is None:
                continue
            terminal = inquiry.supply_terminal(device.name)
            volts = max(inquiry.high.volts.get(terminal, 0.0), _pushed(inquiry, terminal))
            over = volts > most + 1e-9
            message = (
                f"`{device.name}` may see {volts:.2f} V while the battery is charged and takes "
                f"{most:.2f} V at the most"
            )
            yield Reading(device.name, "danger" if over else None, message, volts, most, "V")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        limit = reading.limit or 0.0
        joined = inquiry.joined(inquiry.supply_terminal(reading.subject))
        high = [each for each in _chargers(inquiry, joined) if each.values["absorb"] > limit]
        if not high:
            return Remedy("feed it through a converter, or from a supply of fewer volts")
        # Not higher than what the batteries there want, which the rule on charging judges.
        wanted = [absorb_of(store) for store in stores_at(inquiry, next(iter(joined)))]
        limit = min([limit, *(volts for volts in wanted if volts is not None)])
        edits = tuple(
            SetValue(each.name, name, limit)
            for each in high
            for name in ("absorb", "float")
            if each.values[name] > limit
        )
        names = " and ".join(f"`{each.name}`" for each in high)
        return Remedy(f"{names} set to absorb {limit:.1f} V", edits)


def _chargers(inquiry: Inquiry, joined: frozenset[str]) -> list[DeviceView]:
    """Chargers that give to any of these terminals."""
    return [
        device
        for device in inquiry.devices
        if "absorb" in device.values and giving_at(device, joined)
    ]


def _pushed(inquiry: Inquiry, terminal: str) -> float:
    """The highest absorb voltage of the chargers joined to a terminal [V]."""
    chargers = _chargers(inquiry, inquiry.joined(terminal))
    return max((float(each.values["absorb"]) for each in chargers), default=0.0)
