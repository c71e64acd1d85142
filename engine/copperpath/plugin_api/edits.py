"""What a remedy changes, as data: each names one thing of the station and its new value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True)
class SetWire:
    """A cable of another size, as people write it: `"6 mm2"`, `"10 AWG"`."""

    cable: str
    size: str


@dataclass(frozen=True, slots=True)
class SetLength:
    """A cable of another length, one way [m]."""

    cable: str
    length_m: float


@dataclass(frozen=True, slots=True)
class SetFuse:
    """A fuse at the "start" or the "end" of a cable, in place of the one that is there, if any.

    `within_m` is how far from that end it sits [m].
    """

    cable: str
    end: str
    rating_a: float
    within_m: float | None = None


@dataclass(frozen=True, slots=True)
class SetFact:
    """Another fact of a cable, by its name there: `fuse_interrupts_a`, `bundled` ..."""

    cable: str
    fact: str
    value: float | str | None


@dataclass(frozen=True, slots=True)
class SetValue:
    """Another value of a device's parameter, in SI; what is derived from it is worked out anew."""

    device: str
    parameter: str
    value: float | str


@dataclass(frozen=True, slots=True)
class NeverTogether:
    """Radios of which one at most is keyed at a time."""

    radios: tuple[str, ...]


Edit: TypeAlias = SetWire | SetLength | SetFuse | SetFact | SetValue | NeverTogether
