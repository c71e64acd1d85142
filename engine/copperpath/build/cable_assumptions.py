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
CLAD_BASIS = "1.6 times the resistance of copper of that size, common practice, no source"
WITHOUT_DATA_OHM = 1e-4
"""Stands for the two conductors of a cable whose length or wire is not given [ohm]: a choice, too
little to be felt and enough for the current in it to be told."""
WITHOUT_DATA_BASIS = "what is lost in it is not counted, but in its fuses and joints"
MASS_BASIS = "copper and 60 % more for insulation, common practice, no source"


@dataclass(frozen=True, slots=True)
class Choices:
    """What one cable left open and how it was filled. `missing` are `length` and `wire` if not
    given; `wire` is its size and what was assumed of it ("" nothing); `mass_kg` the mass taken,
    None if it was given or cannot be told."""

    name: str = ""
    missing: tuple[str, ...] = ()
    wire: tuple[str, str] = ("", "")
    flexible: bool = False
    usual_temperature: bool = False
    mass_kg: float | None = None
    fuses_a: tuple[float, ...] = ()
    joint_kinds: tuple[str, ...] = ()
    copper_clad: bool = False


def cable_assumptions(choices: Iterable[Choices]) -> list[Assumption]:
    """All assumptions about a station's cables, alike ones as one."""
    made = list(choices)
    found = []
    for missing in dict.fromkeys(each.missing for each in made if each.missing):
        names = ", ".join(f"`{each.name}`" for each in made if each.missing == missing)
        shown = f"not given for {names}; {show(WITHOUT_DATA_OHM, 'resistance')} taken"
        found.append(Assumption(CABLES, " and ".join(missing), shown, WITHOUT_DATA_BASIS))
    flexible = sum(each.flexible for each in made)
    if flexible:
        found.append(Assumption(CABLES, "wire", "flexible copper", FLEXIBLE_BASIS))
    if any(each.copper_clad for each in made):
        found.append(Assumption(CABLES, "copper_clad", "1.6 times the resistance", CLAD_BASIS))
    for size, assumed in dict.fromkeys(each.wire for each in made if each.wire[1]):
        found.append(Assumption(CABLES, f"wire {size}", "resistance", assumed))
    if any(each.usual_temperature for each in made):
        found.append(Assumption(CABLES, "conductor_temperature", "20 °C", TEMPERATURE_BASIS))
    masses = [each.mass_kg for each in made if each.mass_kg is not None]
    if masses:
        shown = f"{show(sum(masses), 'mass')} together"
        found.append(Assumption(CABLES, "mass", shown, MASS_BASIS))
    for rating in sorted({rating for each in made for rating in each.fuses_a}):
        shown = show(fuse_ohm(rating), "resistance")
        found.append(Assumption(CABLES, f"fuse {rating:g} A", shown, FUSE_BASIS))
    for kind in dict.fromkeys(kind for each in made for kind in each.joint_kinds):
        shown = f"{show(CONTACT_OHM[kind], 'resistance')} a contact"
        found.append(Assumption(CABLES, f"joint of {kind}", shown, CONTACT_BASIS))
    return found
