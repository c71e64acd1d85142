"""What a wiring rule may ask: the station as written, its corners, and the same with an edit.

Voltages in V, currents in A, lengths in m, temperatures in K. A terminal is named `strip.1`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from copperpath.plugin_api.edits import Edit
from copperpath.plugin_api.model import Model


class EndView(Protocol):
    """One end of a cable; `str()` gives `strip.1`."""

    @property
    def device(self) -> str: ...
    @property
    def terminal(self) -> str: ...


class FuseView(Protocol):
    """A fuse in a cable; `end` is "start" or "end"."""

    @property
    def rating_a(self) -> float: ...
    @property
    def end(self) -> str: ...
    @property
    def within_m(self) -> float | None: ...
    @property
    def ohm(self) -> float: ...


class JointView(Protocol):
    """Mated pairs of contacts in a cable; `ohm` is that of all of them."""

    @property
    def kind(self) -> str: ...
    @property
    def pairs(self) -> int: ...
    @property
    def ohm(self) -> float: ...


class FactsView(Protocol):
    """What the file says of a cable beyond its resistance; None where it does not."""

    @property
    def fuse_kind(self) -> str | None: ...
    @property
    def fuse_interrupts_a(self) -> float | None: ...
    @property
    def fuse_voltage_v(self) -> float | None: ...
    @property
    def fuse_poles(self) -> str | None: ...
    @property
    def insulation_k(self) -> float | None: ...
    @property
    def bundled(self) -> int | None: ...
    @property
    def sheathed(self) -> bool: ...
    @property
    def copper_clad(self) -> bool: ...


class CableView(Protocol):
    """A cable. `resistance_ohm` counts both conductors, fuses and joints."""

    @property
    def name(self) -> str: ...
    @property
    def start(self) -> EndView: ...
    @property
    def end(self) -> EndView: ...
    @property
    def length_m(self) -> float | None: ...
    @property
    def wire(self) -> str: ...
    @property
    def area_m2(self) -> float | None: ...
    @property
    def wire_ohm(self) -> float: ...
    @property
    def resistance_ohm(self) -> float: ...
    @property
    def fuses(self) -> Sequence[FuseView]: ...
    @property
    def joints(self) -> Sequence[JointView]: ...
    @property
    def facts(self) -> FactsView: ...


class DeviceView(Protocol):
    """A device with every parameter settled in `values`, in SI; `given` names what the file
    said."""

    @property
    def name(self) -> str: ...
    @property
    def kind(self) -> str: ...
    @property
    def model(self) -> type[Model]: ...
    @property
    def values(self) -> Mapping[str, Any]: ...
    @property
    def given(self) -> frozenset[str]: ...
    @property
    def mass_kg(self) -> float | None: ...


class BondView(Protocol):
    """A device's case or return joined to a device, or (`place`) to a word such as `chassis`."""

    @property
    def start(self) -> str: ...
    @property
    def end(self) -> str: ...
    @property
    def place(self) -> bool: ...


class DataLeadView(Protocol):
    """A data, audio or antenna lead between two devices."""

    @property
    def start(self) -> str: ...
    @property
    def end(self) -> str: ...
    @property
    def kind(self) -> str | None: ...
    @property
    def isolated(self) -> bool: ...
    @property
    def length_m(self) -> float | None: ...


@dataclass(frozen=True, slots=True)
class Corner:
    """One operating point.

    Attributes
    ----------
    found : bool
        False if there is none, even with every load switched off; then the rest is empty.
    volts : mapping of str to float
        At each terminal [V], the lowest where several ways of keying were tried.
    amps : mapping of str to float
        In each cable [A], positive from its start to its end, the largest that was met.
    into : mapping of str to float
        Into each device at each terminal [A]; below zero where it gives.
    opened : tuple of str
        Loads that had to be switched off, as no voltage carries them; theirs are the volts of the
        open line.
    """

    found: bool
    volts: Mapping[str, float]
    amps: Mapping[str, float]
    into: Mapping[str, float]
    opened: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Feed:
    """The way to a terminal from what feeds it by least resistance: the giving terminal, the
    cables in order, and what they, their fuses and the blocks between have together [ohm]."""

    giver: str
    cables: tuple[str, ...]
    blocks: tuple[str, ...]
    ohm: float


@dataclass(frozen=True, slots=True)
class Ampacity:
    """What a cable may carry [A], the table, and the factors that were used, in words."""

    amps: float
    table: str
    words: str


@dataclass(frozen=True, slots=True)
class Protection:
    """What opens if a cable is shorted, for current that comes in at one of its ends.

    Attributes
    ----------
    end : str
        "start" or "end": where the current comes in.
    giver : str
        Terminal of the store or source that gives it.
    rating_a : float
        The smallest rating on its way, infinite if nothing opens [A].
    by : str
        What that is: the name of a cable, or of a block; "" for nothing, "itself" for a source
        that cannot give more.
    """

    end: str
    giver: str
    rating_a: float
    by: str


@dataclass(frozen=True, slots=True)
class FuseBreaks:
    """The most current that a kind of fuse breaks [A], at what voltage [V], and the source."""

    amps: float
    volts: float
    source: str


class Inquiry(Protocol):
    """The read-only station and what can be worked out of it. Nothing here runs over time."""

    @property
    def devices(self) -> Sequence[DeviceView]: ...
    @property
    def cables(self) -> Sequence[CableView]: ...
    @property
    def bonds(self) -> Sequence[BondView]: ...
    @property
    def data_leads(self) -> Sequence[DataLeadView]: ...
    @property
    def never_together(self) -> Sequence[tuple[str, ...]]: ...

    @property
    def air_low_k(self) -> float:
        """The coldest air: the record low if the file gives one, else the coldest it states."""

    @property
    def air_high_k(self) -> float:
        """The warmest air that the file states."""

    @property
    def low(self) -> Corner:
        """Every radio keyed that may be, every load wanted, lowest planned charge, coldest cell,
        nothing from the sun."""

    @property
    def sending(self) -> Corner:
        """The same with each radio at the mean of its mode: what flows for as long as it sends."""

    @property
    def listening(self) -> Corner:
        """The same with no radio keyed."""

    @property
    def high(self) -> Corner:
        """No radio keyed, no load wanted, stores full, full sun on panels as cold as the coldest
        air."""

    @property
    def charging(self) -> Corner:
        """Every load off, stores at their lowest planned charge and warm, everything that gives at
        its most: what chargers push."""

    @property
    def lasts_s(self) -> float:
        """How long the station is to work [s]."""

    @property
    def mass_kg(self) -> float:
        """Mass of all that has one [kg]."""

    def device(self, name: str) -> DeviceView:
        """The device of that name."""

    def cable(self, name: str) -> CableView:
        """The cable of that name."""

    def cables_at(self, device: str, terminal: str = "") -> Sequence[CableView]:
        """Cables that end at a device, or at one of its terminals."""

    def supply_terminal(self, device: str) -> str:
        """The terminal (`rig.in`) at which a load or a converter takes its power."""

    def edited(self, *edits: Edit) -> Inquiry:
        """The same station with something changed."""

    def in_sizes(self, cable: str, sizes: Sequence[str], *edits: Edit) -> Sequence[Inquiry]:
        """The same station with a cable in each of several sizes, after the other edits; what is
        asked of one is worked out for all of them at once."""

    def feed(self, terminal: str) -> Feed | None:
        """How a terminal is fed; None if nothing feeds it."""

    def joined(self, terminal: str) -> frozenset[str]:
        """Terminals that wires and blocks join to this one, itself too; a converter's two sides
        are not joined."""

    def ampacity(self, cable: CableView) -> Ampacity | None:
        """What a cable may carry; None if its size is not known."""

    def larger_wires(self, cable: CableView) -> Sequence[str]:
        """Standard sizes above that of a cable, in its own system, the smallest first."""

    def fuse_ratings(self, kind: str | None) -> Sequence[float]:
        """Standard ratings of a kind of fuse, rising [A]."""

    def fuse_breaks(self, kind: str | None) -> FuseBreaks | None:
        """What a kind of fuse usually breaks; None if the kind is not known."""

    def store_source(self, terminal: str) -> tuple[float, float]:
        """Open voltage [V] and resistance [ohm] of the store at a terminal, full and warm."""

    def short_circuit(self, terminal: str) -> float:
        """The most current that the stores and sources push into a short there [A]."""

    def protection(self, cable: CableView) -> Sequence[Protection]:
        """What opens if it is shorted, for each end at which current can come in."""

    def open_volts(self, terminal: str) -> float:
        """The highest voltage that can stand there: cold panels with nothing connected, charging
        voltages, full stores [V]."""

    def confirmed(self, question: str, device: str = "") -> str:
        """How the file answers a question of a checklist; "" if it does not."""
