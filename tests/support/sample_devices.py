"""One sample device of each built-in model, and a plain site for drives, for the model tests."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from copperpath.plugin_api import (
    Ambient,
    AmbientRule,
    Choice,
    FloatArray,
    Hours,
    Model,
    Mount,
    Mounting,
    Parameter,
    Schedule,
    ShareByHour,
    Window,
)
from copperpath.solver.shapes import law_shape
from copperpath_plugins.blocks.accessory_socket import AccessorySocket
from copperpath_plugins.blocks.breaker import Breaker
from copperpath_plugins.blocks.diode import Diode
from copperpath_plugins.blocks.disconnect import Disconnect
from copperpath_plugins.blocks.fuse import Fuse
from copperpath_plugins.blocks.ideal_diode import IdealDiode
from copperpath_plugins.blocks.isolator import Isolator
from copperpath_plugins.blocks.shunt_meter import ShuntMeter
from copperpath_plugins.blocks.strip import Strip
from copperpath_plugins.blocks.switch import Switch
from copperpath_plugins.converters.dc_charger import DcCharger
from copperpath_plugins.converters.inverter import Inverter
from copperpath_plugins.converters.mains_charger import MainsCharger
from copperpath_plugins.converters.mppt_charger import MpptCharger
from copperpath_plugins.converters.pwm_charger import PwmCharger
from copperpath_plugins.converters.step_down import StepDown
from copperpath_plugins.converters.step_up import StepUp
from copperpath_plugins.converters.usb_c_supply import UsbCSupply
from copperpath_plugins.converters.voltage_booster import VoltageBooster
from copperpath_plugins.loads.dock import Dock
from copperpath_plugins.loads.heater import Heater
from copperpath_plugins.loads.heater_on_surplus import HeaterOnSurplus
from copperpath_plugins.loads.laptop import Laptop
from copperpath_plugins.loads.led_lamp import LedLamp
from copperpath_plugins.loads.mains_load import MainsLoad
from copperpath_plugins.loads.mains_load_on_surplus import MainsLoadOnSurplus
from copperpath_plugins.loads.modem import Modem
from copperpath_plugins.loads.network_node import NetworkNode
from copperpath_plugins.loads.repeater import Repeater
from copperpath_plugins.loads.steady import Steady
from copperpath_plugins.loads.steady_on_surplus import SteadyOnSurplus
from copperpath_plugins.loads.transceiver import Transceiver
from copperpath_plugins.loads.usb_device import UsbDevice
from copperpath_plugins.loads.usb_device_on_surplus import UsbDeviceOnSurplus
from copperpath_plugins.sources.alternator import Alternator
from copperpath_plugins.sources.fuel_cell import FuelCell
from copperpath_plugins.sources.generator import Generator
from copperpath_plugins.sources.hand_crank import HandCrank
from copperpath_plugins.sources.photovoltaic import Photovoltaic
from copperpath_plugins.sources.shaded_photovoltaic import ShadedPhotovoltaic
from copperpath_plugins.sources.supply import Supply
from copperpath_plugins.sources.thin_film import ThinFilm
from copperpath_plugins.sources.wind_turbine import WindTurbine
from copperpath_plugins.storage.lead_acid import LeadAcid
from copperpath_plugins.storage.lfp import LithiumIronPhosphate
from copperpath_plugins.storage.lfp_heated import HeatedLfp
from copperpath_plugins.storage.lfp_measured import MeasuredLfp
from copperpath_plugins.storage.lithium_ion import LithiumIon
from copperpath_plugins.storage.nickel_metal_hydride import NickelMetalHydride
from copperpath_plugins.storage.power_bank import PowerBank
from copperpath_plugins.storage.supercapacitor import Supercapacitor

AMPERE_HOUR = 3600.0
WATT_HOUR = 3600.0

SAMPLES: tuple[tuple[type[Model], Mapping[str, Any]], ...] = (
    (Photovoltaic, {"power": 28.0, "vmp": 17.6, "voc": 21.4, "isc": 1.75, "mount": Mount(0, 180)}),
    (MpptCharger, {"output_limit": 5.0, "max_input": 30.0}),
    (StepDown, {"output": 5.0, "output_limit": 3.0, "input": (9.0, 30.0)}),
    (LithiumIronPhosphate, {"capacity": 12 * AMPERE_HOUR, "charge": 0.9, "reserve": 0.1}),
    (Strip, {"ways": 4.0, "rating": 30.0}),
    (
        Transceiver,
        {
            "receive": 0.32,
            "transmit": 2.1,
            "transmitting": Schedule((), 0.15),
            "mode": "ssb",
            "works": (9.0, 15.0),
        },
    ),
    (Steady, {"power": 6.0}),
    (UsbDevice, {"needs": 0.5}),
    (Disconnect, {}),
    (Fuse, {"rating": 10.0}),
    (Diode, {"rating": 10.0}),
    (IdealDiode, {}),
    (LeadAcid, {"capacity": 100 * AMPERE_HOUR, "kind": "agm"}),
    (PwmCharger, {"output_limit": 10.0, "max_input": 30.0, "profile": "lead_acid"}),
    (Supply, {"voltage": 13.8, "limit": 30.0}),
    (DcCharger, {"output_limit": 20.0, "profile": "lead_acid"}),
    (MainsCharger, {"output_limit": 30.0, "profile": "lead_acid"}),
    (Inverter, {"rating": 300.0}),
    (Generator, {"rating": 1000.0, "start_below": 12.0}),
    (MainsLoad, {"power": 150.0}),
    (Heater, {"power": 20.0, "below": 275.15}),
    (SteadyOnSurplus, {"power": 6.0}),
    (HeaterOnSurplus, {"power": 20.0, "below": 275.15}),
    (MainsLoadOnSurplus, {"power": 150.0}),
    (UsbDeviceOnSurplus, {"needs": 0.5}),
    (Switch, {}),
    (Breaker, {"rating": 30.0}),
    (ShuntMeter, {}),
    (Isolator, {"rating": 70.0}),
    (AccessorySocket, {}),
    (StepUp, {"output": 24.0, "output_limit": 5.0, "input": (10.0, 16.0)}),
    (VoltageBooster, {"output_limit": 25.0}),
    (UsbCSupply, {"profile": "twenty_volts", "budget": 65.0}),
    (HeatedLfp, {"capacity": 12 * AMPERE_HOUR, "charge": 0.9, "pads": 12.0}),
    (MeasuredLfp, {"capacity": 12 * AMPERE_HOUR, "charge": 0.9, "rest_50": 3.28}),
    (LithiumIon, {"cells": 3.0, "capacity": 12 * AMPERE_HOUR, "charge": 0.9}),
    (NickelMetalHydride, {"cells": 10.0, "capacity": 2 * AMPERE_HOUR, "charge": 0.9}),
    (
        ShadedPhotovoltaic,
        {
            "power": 28.0,
            "vmp": 17.6,
            "voc": 21.4,
            "isc": 1.75,
            "mount": Mount(0, 180),
            "shaded_groups": 1.0,
            "shaded_light": 0.3,
        },
    ),
    (ThinFilm, {"power": 30.0, "vmp": 16.5, "voc": 20.8, "isc": 2.07, "mount": Mount(0, 180)}),
    (Alternator, {"running_current": 70.0}),
    (WindTurbine, {"rating": 200.0, "wind": 6.0}),
    (
        FuelCell,
        {"voltage": 13.6, "open_voltage": 19.0, "current": 3.5, "burns": "methanol", "tank": 5e-3},
    ),
    (HandCrank, {}),
    (PowerBank, {"rated_charge": 10 * AMPERE_HOUR, "charge": 0.9}),
    (Supercapacitor, {"capacitance": 58.0, "voltage": 16.0, "charge": 0.9}),
    (Repeater, {"waiting": 0.5, "transmit": 6.5, "transmitting": Schedule((), 0.1)}),
    (Modem, {"idle": 1.0, "sending": 4.0, "peak": 8.0, "transmitting": Schedule((), 0.05)}),
    (Laptop, {"power": 30.0, "battery": 50 * WATT_HOUR, "charge": 0.5}),
    (NetworkNode, {"power": 6.0}),
    (LedLamp, {"power": 6.0, "driver": "resistors"}),
    (Dock, {"handhelds": 4.0, "battery": 13 * WATT_HOUR, "needs": 0.0, "charge": 0.5}),
)


def settled(model: type[Model], **given: Any) -> dict[str, Any]:
    """Parameter values as the builder makes them: defaults filled in, windows split, derived
    values added; absent optional numbers are NaN."""
    values: dict[str, Any] = {}
    for parameter in model.parameters:
        name = parameter.name
        match parameter:
            case Parameter():
                usual = math.nan if parameter.default is None else parameter.default
                values[name] = given.get(name, usual)
            case Window():
                low, high = given.get(name, parameter.default or (math.nan, math.nan))
                values[name + "_low"], values[name + "_high"] = low, high
            case Choice():
                values[name] = given.get(name, parameter.default)
            case Hours():
                values[name] = given.get(name, Schedule((), 1.0))
            case ShareByHour():
                values[name] = given.get(name, Schedule((), parameter.default or 0.0))
            case Mounting():
                values[name] = given[name]
            case Ambient():
                values[name] = given.get(name, AmbientRule())
    return values | model.derive(values)


def law_at(
    model: type[Model],
    values: Mapping[str, Any],
    v: Sequence[float],
    x: Sequence[float] = (),
    d: Sequence[float] = (),
) -> tuple[float, ...]:
    """What the law of a settled device returns at these voltages, states and drives."""
    shape = law_shape(model)
    p = shape.p_type(*(values[name.rstrip("_")] for name in shape.p_fields))
    returned = model.law(shape.v_type(*v), shape.x_type(*x), shape.d_type(*d), p)
    return tuple(float(part) for part in returned)


def signals_at(
    model: type[Model],
    values: Mapping[str, Any],
    v: Sequence[float],
    x: Sequence[float] = (),
    d: Sequence[float] = (),
) -> tuple[float, ...]:
    """What `watch` says there."""
    shape = law_shape(model)
    p = shape.p_type(*(values[name.rstrip("_")] for name in shape.p_fields))
    inputs = shape.v_type(*v), shape.x_type(*x), shape.d_type(*d), p
    amps = model.law(*inputs)
    return tuple(float(part) for part in model.watch(inputs[0], amps, *inputs[1:]))


@dataclass(frozen=True)
class PlainSite:
    """Surroundings without geometry: the same light and air at every panel."""

    air_k: FloatArray
    light: FloatArray

    @property
    def dt_s(self) -> FloatArray:
        return np.full(self.light.shape, 60.0)

    def plane_irradiance(self, mount: Mount) -> FloatArray:
        return self.light

    def schedule(self, schedule: Schedule) -> FloatArray:
        return np.full(self.light.shape, schedule.otherwise)

    def temperature(self, rule: AmbientRule) -> FloatArray:
        return self.air_k if rule.fixed_k is None else np.full(self.light.shape, rule.fixed_k)


def plain_site(air_c: float, *light: float) -> PlainSite:
    """A site of a few steps with the given light [W/m²] in each."""
    return PlainSite(np.full(len(light), air_c + 273.15), np.array(light, dtype=np.float64))
