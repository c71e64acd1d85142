"""Open-circuit and best voltages of panels in the cold and in the heat, from their labels."""

from __future__ import annotations

from copperpath.plugin_api import DeviceView, Inquiry
from copperpath_plugins.rules.terminals import terminals_of

STANDARD_K = 298.15
CELSIUS = 273.15

CODE_FACTORS = (
    (20.0, 1.02),
    (15.0, 1.04),
    (10.0, 1.06),
    (5.0, 1.08),
    (0.0, 1.10),
    (-5.0, 1.12),
    (-10.0, 1.14),
    (-15.0, 1.16),
    (-20.0, 1.18),
    (-25.0, 1.20),
    (-30.0, 1.21),
    (-35.0, 1.23),
    (-40.0, 1.25),
)
"""Lower end of a band of temperature [°C] and what the open-circuit voltage is multiplied by:
NEC table 690.7(A), crystalline silicon."""


def is_panel(device: DeviceView) -> bool:
    """True for a source with a label of a panel."""
    return device.kind == "source" and {"voc", "isc", "vmp"} <= set(device.values)


def panels_at(inquiry: Inquiry, terminal: str) -> list[DeviceView]:
    """Panels that wires join to a terminal, as they come in the file."""
    joined = {name.rpartition(".")[0] for name in inquiry.joined(terminal)}
    found = [device for device in map(inquiry.device, joined) if is_panel(device)]
    if len(found) < 2:
        return found
    names = {panel.name for panel in found}
    return [device for device in inquiry.devices if device.name in names]


def controllers(inquiry: Inquiry) -> list[tuple[DeviceView, str]]:
    """Controllers with panels on one side, and the full name of that terminal."""
    return [
        (device, name)
        for device in inquiry.devices
        if device.kind == "converter"
        for name in panel_terminals(inquiry, device)
    ]


def panel_terminals(inquiry: Inquiry, converter: DeviceView) -> list[str]:
    """Full names of a converter's terminals that panels are joined to."""
    return [
        name
        for name, terminal in terminals_of(converter)
        if terminal.limit and panels_at(inquiry, name)
    ]


def cold_open_volts(panel: DeviceView, air_low_k: float) -> tuple[float, str]:
    """Of all panels of a string in the coldest air, and how: the label's coefficient if the file
    gives it, else the code's factor [V]."""
    volts = float(panel.values["voc"]) * float(panel.values.get("series", 1.0))
    if "voc_coefficient" in panel.given:
        share = float(panel.values["voc_coefficient"])
        return volts * (1.0 + share * (air_low_k - STANDARD_K)), f"{100.0 * share:.2f} %/K"
    factor = code_factor(air_low_k - CELSIUS)
    return volts * factor, f"times {factor:g} as the file gives no coefficient, NEC table 690.7(A)"


def code_factor(celsius: float) -> float:
    """The code's multiplier at a temperature [°C]; 1 above 25 °C."""
    if celsius >= 25.0:
        return 1.0
    return next((factor for low, factor in CODE_FACTORS if celsius >= low), CODE_FACTORS[-1][1])


def hot_factor(panel: DeviceView, air_high_k: float) -> float:
    """What the heat of full sun leaves of a panel's voltages."""
    warmer = (float(panel.values["nominal_cell_temperature"]) - 293.15) / 800.0 * 1000.0
    cell = air_high_k + warmer * (1.0 - float(panel.values["efficiency"]) / 0.9)
    return 1.0 + float(panel.values["voc_coefficient"]) * (cell - STANDARD_K)


def cold_volts_at(inquiry: Inquiry, terminal: str) -> float:
    """The highest voltage of panels joined to a terminal, 0 without panels [V]."""
    panels = panels_at(inquiry, terminal)
    return max((cold_open_volts(each, inquiry.air_low_k)[0] for each in panels), default=0.0)


def highest_volts(inquiry: Inquiry, terminal: str) -> float:
    """The highest voltage that can stand at a terminal, panels in the cold too [V]."""
    return max(cold_volts_at(inquiry, terminal), inquiry.open_volts(terminal))
