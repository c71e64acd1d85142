"""States in which stores take all that chargers push: low and warm."""

from __future__ import annotations

from copperpath.plugin_api import Lag
from copperpath.record.run import charge_state
from copperpath.solver.problem import SlotData
from copperpath.study.corners import high_states, low_states


def charging_states(data: SlotData, drives: list[float]) -> list[float]:
    """Of a store its lowest planned charge, as warm as it gets; of others as in the high corner."""
    values = high_states(data, drives)
    name = charge_state(data.slot.device)
    if name is None:
        return values
    place = [state.name for state in data.states].index(name)
    values[place] = low_states(data, drives)[place]
    for at, state in enumerate(data.states):
        if isinstance(state, Lag) and state.initial in data.shape.d_fields:
            values[at] = float(data.drives[data.shape.d_fields.index(state.initial)].max())
    return values
