"""The voltages at which radios made for a car's supply work."""

from copperpath.plugin_api import Window

RADIO_WORKS = Window(
    "works",
    "voltage",
    "the voltages at its terminals between which it works",
    default=(11.7, 15.9),
    low=0.5,
    high=100.0,
    bound_reason="supplies here are between 0.5 V and 100 V",
    basis="13.8 V plus or minus 15 %, as equipment handbooks usually state",
    example="11.7 V .. 15.9 V",
    shown_unit="V",
)
