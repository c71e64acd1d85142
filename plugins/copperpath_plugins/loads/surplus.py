"""What loads share that run on surplus sun alone: a relay that senses a voltage.

It connects its load once the voltage has stood above `surplus_above` for `surplus_delay`, and lets
go once it has been below `surplus_below` for as long. A charging voltage that high is reached only
when the battery is nearly full and the sun brings more than it takes; a resting battery falls to
`surplus_below` as soon as more is taken than the sun brings.
"""

from __future__ import annotations

from copperpath.plugin_api import (
    AnyParameter,
    Latch,
    Parameter,
    ParameterProblem,
    Terminal,
    Values,
)

BASIS = (
    "four lithium iron phosphate cells: above 14.0 V only while charged and nearly full, below "
    "13.3 V when more is taken than the sun brings; common practice, no source"
)
SURPLUS_PARAMETERS: tuple[AnyParameter, ...] = (
    Parameter(
        "surplus_above",
        "voltage",
        "the sensed voltage above which there is surplus, so that it is connected",
        default=14.0,
        low=1.0,
        high=120.0,
        bound_reason="batteries here are charged to 100 V at the most",
        basis=BASIS,
        example="14 V",
        shown_unit="V",
    ),
    Parameter(
        "surplus_below",
        "voltage",
        "the sensed voltage below which there is none any more, so that it is disconnected",
        default=13.3,
        low=1.0,
        high=120.0,
        bound_reason="batteries here are charged to 100 V at the most",
        basis=BASIS,
        example="13.3 V",
        shown_unit="V",
    ),
    Parameter(
        "surplus_delay",
        "time",
        "how long the voltage must stay there before it is connected or disconnected",
        default=60.0,
        low=0.0,
        bound_reason="a delay is not negative",
        basis="10 s and more is common practice for disconnects, no source",
        example="60 s",
        shown_unit="s",
    ),
)
CONNECTED = Latch("connected", set_after="surplus_delay", clear_after="surplus_delay")
SENSE = Terminal("sense", "the battery whose voltage its relay watches; draws nothing")


def check_surplus(p: Values) -> None:
    """The relay's two voltages in order.

    Raises
    ------
    ParameterProblem
        If they are not.
    """
    above, below = float(p["surplus_above"]), float(p["surplus_below"])
    if above <= below:
        raise ParameterProblem(
            "surplus_above",
            f"connects above {above:.4g} V, which is not above the {below:.4g} V below which it "
            "disconnects",
            f"it would switch without end; {below + 0.7:.4g} V is usual here",
        )
