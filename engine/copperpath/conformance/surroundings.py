"""A site without geometry for trying drives: random light and air, real hours."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from copperpath.plugin_api import AmbientRule, FloatArray, Mount, Schedule
from copperpath.site.hours import schedule_over_time

STEP_S = 900.0
COLDEST_K, WARMEST_K = 233.15, 323.15
BRIGHTEST = 1200.0
"""W/m², a little more than full sun under a broken sky."""


@dataclass(frozen=True)
class TrialSite:
    """Surroundings over steps of a quarter of an hour; `asked` notes what a model wanted to know:
    `light`, `schedule`, `air`, `steps`."""

    air: FloatArray
    light: FloatArray
    dark: bool = False
    asked: set[str] = field(default_factory=set)

    @property
    def dt_s(self) -> FloatArray:
        """Steps alike [s]."""
        self.asked.add("steps")
        return np.full(self.light.shape, STEP_S)

    @property
    def air_k(self) -> FloatArray:
        """Air temperature [K]."""
        self.asked.add("air")
        return self.air.copy()

    def plane_irradiance(self, mount: Mount) -> FloatArray:
        """The same light on every plane [W/m²]."""
        self.asked.add("light")
        return self.light.copy()

    def schedule(self, schedule: Schedule) -> FloatArray:
        """The schedule by the hour; on a dark site nothing is ever on."""
        self.asked.add("schedule")
        if self.dark:
            return np.zeros(self.light.shape)
        starts = np.arange(len(self.light), dtype=np.float64) * STEP_S
        return schedule_over_time(schedule, starts, STEP_S)

    def temperature(self, rule: AmbientRule) -> FloatArray:
        """A fixed temperature, or the air's plus an offset [K]."""
        if rule.fixed_k is not None:
            return np.full(self.air.shape, rule.fixed_k)
        return self.air_k + rule.offset_k


def random_site(random: np.random.Generator, steps: int) -> TrialSite:
    """Air between -40 °C and 50 °C, light up to that of a bright day, a third of it none."""
    light = random.uniform(0.0, BRIGHTEST, steps)
    light[random.random(steps) < 1.0 / 3.0] = 0.0
    return TrialSite(random.uniform(COLDEST_K, WARMEST_K, steps), light)


def dark_site(steps: int) -> TrialSite:
    """Night, and all hours off."""
    return TrialSite(np.full(steps, 278.15), np.zeros(steps), dark=True)
