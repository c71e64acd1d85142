"""What was assumed about cables, gathered: one line a kind of assumption, not one a cable."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from copperpath.build.contacts import CONTACT_BASIS, CONTACT_OHM, FUSE_BASIS, fuse_ohm
from copperpath.quantities import show
from copperpath.station import Assumption

CABLES = "cables"
FLEXIBLE_BASIS = (
    "usual for leads; `solid` takes the other. By mm2 the most that IEC 60228 class 5 allows, by "
    "gauge 2 % over solid (ASTM B258, copper of IEC 60028)"
)
TEMPERATURE_BASIS = "the temperature of the tables; +0.39 % for each kelvin above"
MASS_BASIS = "copper and 60 % more for insulation, common practice, no source"


@dataclass(frozen=True, slots=True)
class Choices:
    """What one cable left open and how it was filled. `wire` is its size and what was assumed of
    it ("" nothing); `mass_kg` the mass taken, None if it was given."""

    wire: tuple[str, str] = ("", "")
    flexible: bool = False
    usual_temperature: bool = False
    mass_kg: float | None = None
    fuse_a: float | None = None
    joint_kinds: tuple[str, ...] = ()


def cable_assumptions(choices: Iterable[Choices]) -> list[Assumption]:
    """All assumptions about a station's cables, alike ones as one."""
    made = list(choices)
    found = []
    flexible = sum(each.flexible for each in made)
    if flexible:
        found.append(Assumption(CABLES, "wire", "flexible copper", FLEXIBLE_BASIS))
    for size, assumed in dict.fromkeys(each.wire for each in made if each.wire[1]):
        found.append(Assumption(CABLES, f"wire {size}", "resistance", assumed))
    if any(each.usual_temperature for each in made):
        found.append(Assumption(CABLES, "conductor_temperature", "20 °C", TEMPERATURE_BASIS))
    masses = [each.mass_kg for each in made if each.mass_kg is not None]
    if masses:
        shown = f"{show(sum(masses), 'mass')} together"
        found.append(Assumption(CABLES, "mass", shown, MASS_BASIS))
    for rating in sorted({each.fuse_a for each in made if each.fuse_a is not None}):
        shown = show(fuse_ohm(rating), "resistance")
        found.append(Assumption(CABLES, f"fuse {rating:g} A", shown, FUSE_BASIS))
    for kind in dict.fromkeys(kind for each in made for kind in each.joint_kinds):
        shown = f"{show(CONTACT_OHM[kind], 'resistance')} a contact"
        found.append(Assumption(CABLES, f"joint of {kind}", shown, CONTACT_BASIS))
    return found
