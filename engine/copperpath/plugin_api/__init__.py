"""All that a plugin may import."""

from copperpath.plugin_api.arrays import BoolArray, FloatArray
from copperpath.plugin_api.elementwise import (
    Elementwise,
    between,
    constant_current,
    constant_power,
    elementwise,
    table,
    where,
)
from copperpath.plugin_api.model import INTERFACE_VERSION, Keying, Kind, Link, Model, Suspect
from copperpath.plugin_api.parameters import (
    Ambient,
    AmbientRule,
    AnyParameter,
    Choice,
    Hours,
    Mount,
    Mounting,
    Parameter,
    ParameterProblem,
    Schedule,
    ShareByHour,
    Span24,
    Values,
    Window,
)
from copperpath.plugin_api.states import Accumulator, Lag, Latch, State
from copperpath.plugin_api.surroundings import Surroundings
from copperpath.plugin_api.terminals import Terminal, Ways

__all__ = [
    "INTERFACE_VERSION",
    "Accumulator",
    "Ambient",
    "AmbientRule",
    "AnyParameter",
    "BoolArray",
    "Choice",
    "Elementwise",
    "FloatArray",
    "Hours",
    "Keying",
    "Kind",
    "Lag",
    "Latch",
    "Link",
    "Model",
    "Mount",
    "Mounting",
    "Parameter",
    "ParameterProblem",
    "Schedule",
    "ShareByHour",
    "Span24",
    "State",
    "Surroundings",
    "Suspect",
    "Terminal",
    "Values",
    "Ways",
    "Window",
    "between",
    "constant_current",
    "constant_power",
    "elementwise",
    "table",
    "where",
]
