"""Volts of hot panels against what a controller needs above its battery."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Inquiry, Reading, Remedy, Rule, SetValue
from copperpath_plugins.rules.panel_volts import controllers, hot_factor, panels_at
from copperpath_plugins.rules.stores import stores_at
from copperpath_plugins.rules.terminals import giving_at, terminals_of


class ControllerWakes(Rule):
    """In the heat: open-circuit volts against the full battery at rest and start headroom, best
    volts against the charging voltage and run headroom."""

    interface = 1
    name = "controller-wakes"
    summary = "panels in the heat have the volts to start a controller and to keep it running"
    why = "a controller that never wakes charges nothing, however bright the day"
    limit_from = "the file"
    source = "the controller's start and run headroom; 5 V and 1 V are common practice"
    levels = ("fail",)

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for device, terminal in controllers(inquiry):
            battery = _charged_volts(device)
            panels = panels_at(inquiry, terminal)
            if battery is None:
                continue
            rest = _rest_volts(inquiry, device, battery)
            start = rest + float(device.values.get("start_headroom", 0.0))
            run = battery + float(device.values.get("headroom", device.values.get("drop", 0.0)))
            open_v, best_v = (
                max(float(p.values[name]) * float(p.values["series"]) * hot for p, hot in heated)
                for name in ("voc", "vmp")
                for heated in [[(p, hot_factor(p, inquiry.air_high_k)) for p in panels]]
            )
            yield _of(device, "start", open_v, start, "open", "to start")
            yield _of(device, "run", best_v, run, "at their best", "to charge to the end")

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        device = inquiry.device(reading.subject)
        for controller, terminal in controllers(inquiry):
            if controller.name != device.name:
                continue
            for panel in panels_at(inquiry, terminal):
                parallel = float(panel.values["parallel"])
                if parallel % 2.0 == 0.0:
                    edits = (
                        SetValue(panel.name, "series", 2.0 * float(panel.values["series"])),
                        SetValue(panel.name, "parallel", parallel / 2.0),
                    )
                    return Remedy(
                        f"the panels of `{panel.name}` in pairs, one after another", edits
                    )
        return Remedy("one panel more in each string, or a PWM controller")


def _charged_volts(device: DeviceView) -> float | None:
    """The battery at the end of its charge: the controller's absorb voltage [V]."""
    absorb = device.values.get("absorb")
    return None if absorb is None else float(absorb)


def _rest_volts(inquiry: Inquiry, device: DeviceView, charged: float) -> float:
    """The battery at rest and full, as it is when the controller has to start in the morning; the
    end of its charge if there is none [V]."""
    stores = [
        inquiry.supply_terminal(store.name)
        for terminal in giving_at(device, frozenset(name for name, _ in terminals_of(device)))
        for store in stores_at(inquiry, terminal)
    ]
    return min(charged, max((inquiry.store_source(name)[0] for name in stores), default=charged))


def _of(
    device: DeviceView, place: str, volts: float, needed: float, how: str, what: str
) -> Reading:
    low = volts < needed
    message = (
        f"hot panels give `{device.name}` {volts:.1f} V {how} and it needs {needed:.1f} V {what}"
    )
    return Reading(device.name, "fail" if low else None, message, volts, needed, "V", place)
