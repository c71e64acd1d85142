"""Power of panels that a controller throws away."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetValue, Values
from copperpath_plugins.rules.panel_volts import controllers, panels_at

LEAST_SHARE = 0.8
BATTERY_V = 13.2


class PanelPowerLost(Rule):
    """A PWM controller takes battery volts times panel amps; a tracker stops at its output."""

    interface = 1
    name = "panel-power-lost"
    summary = "a controller uses four fifths of what its panels give in full sun at least"
    why = "panels are carried and paid for; what is thrown away is missing on the short day"
    limit_from = "common practice"
    levels = ("warn",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device, terminal in controllers(inquiry):
            panels = panels_at(inquiry, terminal)
            given = sum(_rated(p.values) for p in panels)
            if device.model.name == "pwm_charger":
                amps = sum(_amps(p.values) for p in panels)
                used = min(amps, float(device.values["output_limit"])) * BATTERY_V
                why = "a PWM controller pulls them down to the battery's volts"
            elif "output_limit" in device.values:
                most = float(device.values["output_limit"]) * BATTERY_V
                used = min(given * float(device.values.get("efficiency", 1.0)), most)
                why = f"its output is limited to {float(device.values['output_limit']):g} A"
            else:
                continue
            share = min(used / given, 1.0)
            low = share < LEAST_SHARE
            message = (
                f"`{device.name}` uses {used:.0f} W of the {given:.0f} W its panels give in full "
                f"sun: {why}; {100.0 * LEAST_SHARE:.0f} % are wanted"
            )
            yield Reading(
                device.name,
                "warn" if low else None,
                message,
                100.0 * share,
                100.0 * LEAST_SHARE,
                "%",
                terminal,
            )

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        device = inquiry.device(reading.subject)
        if device.model.name == "pwm_charger":
            return Remedy("a tracking controller, or panels made for the battery's volts")
        given = sum(_rated(p.values) for p in panels_at(inquiry, reading.place))
        wanted = -(-given * LEAST_SHARE // BATTERY_V)
        edit = SetValue(device.name, "output_limit", wanted)
        return Remedy(f"a controller of {wanted:.0f} A", (edit,))


def _rated(values: Values) -> float:
    return float(values["power"]) * float(values["series"]) * float(values["parallel"])


def _amps(values: Values) -> float:
    return float(values["power"]) / float(values["vmp"]) * float(values["parallel"])
