"""What a model may ask of the site when it makes its drives."""

from __future__ import annotations

from typing import Protocol

from copperpath.plugin_api.arrays import FloatArray
from copperpath.plugin_api.parameters import AmbientRule, Mount, Schedule


class Surroundings(Protocol):
    """The site over the steps of a run. Arrays have shape (time,), one value a step, taken at
    the middle of the step."""

    @property
    def dt_s(self) -> FloatArray:
        """Length of each step [s]."""

    @property
    def air_k(self) -> FloatArray:
        """Air temperature [K]."""

    def plane_irradiance(self, mount: Mount) -> FloatArray:
        """Sunlight falling on a panel's plane, beam, sky and ground together [W/m²]."""

    def schedule(self, schedule: Schedule) -> FloatArray:
        """A schedule's value, averaged over each step (an edge inside a step is weighted)."""

    def temperature(self, rule: AmbientRule) -> FloatArray:
        """A fixed temperature, or the air's plus an offset [K]."""
