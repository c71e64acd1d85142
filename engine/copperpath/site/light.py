"""Light at the ground, in its three parts."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.plugin_api import FloatArray


@dataclass(frozen=True, slots=True)
class Light:
    """Light at the ground over time, arrays (time,) [W/m²]: on the level, in the beam (across
    it), and from the rest of the sky on the level; and the share of it all that counts, no unit.
    """

    level: FloatArray
    beam: FloatArray
    diffuse: FloatArray
    share: FloatArray
