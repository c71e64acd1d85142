"""A site for corners alone: schedules as they are, all the light or none, the coldest and the
warmest air. It needs no knowledge of sun and sky, which takes seconds to load."""

from __future__ import annotations

import numpy as np

from copperpath.plugin_api import Schedule
from copperpath.site.place import make_place
from copperpath.site.site import Site, steps_of
from copperpath.station import Station

STEPS = 96
LEAST_STEPS = 4
FULL_SUN = 1000.0
"""Light of standard test conditions [W/m²]: IEC 60904-3."""


def corner_site(station: Station, cold_k: float, hot_k: float) -> Site:
    """Steps cut at every schedule's edges; dark and cold at first, hot at the second, bright and
    cold at all others."""
    settings = station.site
    place = make_place(settings)
    schedules = [
        value
        for device in station.devices
        for value in device.values.values()
        if isinstance(value, Schedule)
    ]
    step_s = settings.lasts_s / STEPS
    time_s, dt_s = steps_of(settings.starts.timestamp(), step_s, STEPS, place, schedules)
    light = np.full(len(time_s), FULL_SUN)
    light[0] = 0.0
    air = np.full(len(time_s), cold_k)
    air[1] = hot_k
    return Site(
        settings,
        place,
        step_s,
        time_s,
        time_s + 0.5 * dt_s,
        dt_s,
        air,
        "corners",
        light,
        None,
        None,
    )
