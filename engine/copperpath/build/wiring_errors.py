"""Mistakes about cables, terminals and requirements."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath.build.wording import listed, meant, places
from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span

MOST_OTHERS = 5
"""Further names that a message lists; more are counted."""

# ---- ends of cables -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownDevice(Diagnostic):
    """A name that no device has."""

    name: str
    near: str
    also: tuple[Span, ...] = ()
    code: ClassVar[str] = "build/unknown-device"

    @property
    def message(self) -> str:
        return f"there is no device `{self.name}` in this file"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        return (
            "" if self.near else f"declare it: `load {self.name} : ... {{ ... }}`, or mend the name"
        )

    @property
    def further(self) -> tuple[Label, ...]:
        return places(self.also)


@dataclass(frozen=True, slots=True)
class UnknownTerminal(Diagnostic):
    """A terminal that the device has not got."""

    device: str
    terminal: str
    near: str
    known: str
    code: ClassVar[str] = "build/unknown-terminal"
    poles: ClassVar[tuple[str, ...]] = ("plus", "minus", "positive", "negative", "pos", "neg")

    @property
    def message(self) -> str:
        return f"`{self.device}` has no terminal `{self.terminal}`"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        both = "a cable is both its conductors, plus and minus; "
        return f"{both * (self.terminal in self.poles)}its terminals: {self.known}"


@dataclass(frozen=True, slots=True)
class WhichTerminal(Diagnostic):
    """A device named alone that has several terminals and no plain one."""

    device: str
    known: str
    example: str
    code: ClassVar[str] = "build/which-terminal"

    @property
    def message(self) -> str:
        return f"`{self.device}` has several terminals; say which one the cable ends at"

    @property
    def help(self) -> str:
        return f"write `{self.example}` or the like; its terminals: {self.known}"


@dataclass(frozen=True, slots=True)
class NotAnEnd(Diagnostic):
    """A path with too many dots."""

    written: str
    code: ClassVar[str] = "build/not-an-end"

    @property
    def message(self) -> str:
        return f"`{self.written}` is not a place where a cable can end"

    @property
    def help(self) -> str:
        return "a cable ends at a device, `rig`, or at one of its terminals, `strip.1`"


@dataclass(frozen=True, slots=True)
class CableToItself(Diagnostic):
    """Both ends at one terminal."""

    terminal: str
    code: ClassVar[str] = "build/cable-to-itself"

    @property
    def message(self) -> str:
        return f"this cable begins and ends at the same terminal, `{self.terminal}`"

    @property
    def help(self) -> str:
        return "name another device at one end"


@dataclass(frozen=True, slots=True)
class NotConnected(Diagnostic):
    """A terminal that matters and has no cable. `others` are those of further devices that the
    same line declares."""

    terminal: str
    example: str
    others: tuple[str, ...] = ()
    code: ClassVar[str] = "build/not-connected"

    @property
    def message(self) -> str:
        if len(self.others) > MOST_OTHERS:
            return f"no cable ends at `{self.terminal}` and {len(self.others)} others like it"
        return f"no cable ends at {listed((self.terminal, *self.others), 'or')}"

    @property
    def help(self) -> str:
        if self.others:
            return f"add cables such as `{self.example}`, or declare fewer of them"
        return f"add a cable such as `{self.example}`, or take the device out"


# ---- what a cable is made of ----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ZeroLength(Diagnostic):
    """A cable without length: a zero-ohm link."""

    code: ClassVar[str] = "build/zero-ohm-cable"

    @property
    def message(self) -> str:
        return "a cable of no length has no resistance, so the current in it cannot be told"

    @property
    def help(self) -> str:
        return "give its real length one way (`length 0.1 m`), or end both cables at one terminal"


@dataclass(frozen=True, slots=True)
class NotAWireSize(Diagnostic):
    """Neither a gauge nor an area."""

    given: str
    noun: str
    code: ClassVar[str] = "build/not-a-wire-size"

    @property
    def message(self) -> str:
        return f"`wire` takes a size such as 2.5 mm2 or 14 AWG; `{self.given}` is {self.noun}"

    @property
    def help(self) -> str:
        if self.noun == "a length":
            text = "a diameter does not say how much copper it is; mm2 is the area of copper"
            number = self.given.removesuffix("mm").strip()
            plain = number.replace(".", "", 1).isdecimal() and number != self.given
            return f"{text}: `wire {number} mm2`, if that is meant" if plain else text
        return "write it like `wire 2.5 mm2` or `wire 14 AWG`"


@dataclass(frozen=True, slots=True)
class NoSuchWire(Diagnostic):
    """A size beyond the tables."""

    given: str
    reason: str
    code: ClassVar[str] = "build/no-such-wire"

    @property
    def message(self) -> str:
        return f"there is no wire of {self.given}"

    @property
    def help(self) -> str:
        return self.reason


@dataclass(frozen=True, slots=True)
class FuseNowhere(Diagnostic):
    """A fuse that does not say in which end it sits, or names a place that is no end."""

    rating: str
    written: str
    start: str
    end: str
    one_device: bool
    code: ClassVar[str] = "build/fuse-place"

    @property
    def _is_device_there(self) -> bool:
        """A device is called `start` or `end`, as the end of the cable that it is not at."""
        return self.written == {self.end: "start", self.start: "end"}.get(self.written)

    @property
    def message(self) -> str:
        if self.written and self.one_device:
            return f"both ends of this cable are at `{self.written}`; say which has the fuse"
        if self._is_device_there:
            which = "first" if self.written == "start" else "second"
            return (
                f"`{self.written}` means this cable's {which} end, and a device called "
                f"`{self.written}` is at its other one"
            )
        if self.written:
            return f"`{self.written}` is not an end of this cable, so the fuse cannot sit there"
        return "the fuse does not say at which end of the cable it sits"

    @property
    def help(self) -> str:
        if self.one_device:
            return f"write `fuse {self.rating} at start` or `fuse {self.rating} at end`"
        if self._is_device_there:
            other, here = ("end", self.start) if self.written == "start" else ("start", self.end)
            return (
                f"write `at {other}` for a fuse at the device `{self.written}`, `at {here}` for "
                "one at the other end; or give that device another name"
            )
        return (
            f"write `fuse {self.rating} at {self.start}` or `at {self.end}`: "
            "the end that can feed a short circuit"
        )


@dataclass(frozen=True, slots=True)
class TwoFusesAtOneEnd(Diagnostic):
    """Two fuses at one end of a cable."""

    at: str
    first: Span
    code: ClassVar[str] = "build/two-fuses-at-one-end"

    @property
    def message(self) -> str:
        return f"there is a fuse at `{self.at}` already"

    @property
    def help(self) -> str:
        return "keep one of the two, or name the other end; `fuse_poles both` is one in each pole"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "the first one"),)


@dataclass(frozen=True, slots=True)
class FuseBeyondCable(Diagnostic):
    """A fuse further along than the cable is long."""

    within: str
    length: str
    code: ClassVar[str] = "build/fuse-beyond-cable"

    @property
    def message(self) -> str:
        return f"the fuse cannot sit {self.within} along a cable of {self.length}"

    @property
    def help(self) -> str:
        return "`within` is measured along the wire from its end; look at the two units"


# ---- requirements ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownQuantity(Diagnostic):
    """A quantity that no run records."""

    name: str
    near: str
    known: tuple[str, ...]
    code: ClassVar[str] = "build/unknown-quantity"

    @property
    def message(self) -> str:
        return f"`{self.name}` is not something a run records"

    @property
    def label(self) -> str:
        return meant(self.near)

    @property
    def help(self) -> str:
        return f"write the device, a dot, and one of {listed(self.known, 'or')}"


@dataclass(frozen=True, slots=True)
class WhichQuantity(Diagnostic):
    """A device compared with a number."""

    device: str
    example: str
    code: ClassVar[str] = "build/which-quantity"

    @property
    def message(self) -> str:
        return f"`{self.device}` is a device; say which of its quantities is compared"

    @property
    def help(self) -> str:
        return f"write `{self.example}` or the like"


@dataclass(frozen=True, slots=True)
class NoSuchQuantity(Diagnostic):
    """The charge of a radio."""

    device: str
    quantity: str
    reason: str
    code: ClassVar[str] = "build/no-such-quantity"

    @property
    def message(self) -> str:
        return f"`{self.device}` has no {self.quantity}: {self.reason}"

    @property
    def help(self) -> str:
        return f"name the battery that is meant, or ask for `{self.device}.voltage`"


@dataclass(frozen=True, slots=True)
class NotALoad(Diagnostic):
    """`require pack powered throughout`."""

    device: str
    kind: str
    code: ClassVar[str] = "build/not-a-load"

    @property
    def message(self) -> str:
        what = "storage" if self.kind == "storage" else f"a {self.kind}"
        return f"only loads are powered or not; `{self.device}` is {what}"

    @property
    def help(self) -> str:
        if self.kind == "storage":
            return f"ask for its charge: `require {self.device}.charge >= 20 %`"
        return f"ask for its voltage: `require {self.device}.voltage >= 12 V`"


@dataclass(frozen=True, slots=True)
class UnknownVerdict(Diagnostic):
    """`require lasts`."""

    word: str
    code: ClassVar[str] = "build/unknown-verdict"

    @property
    def message(self) -> str:
        return f"`{self.word}` cannot be required"

    @property
    def help(self) -> str:
        return (
            "`require holds` asks that the store comes back each day; "
            "`require rig powered throughout` that a load is never short"
        )


@dataclass(frozen=True, slots=True)
class LongerThanRun(Diagnostic):
    """Powered for longer than the run lasts."""

    written: str
    lasts: str
    code: ClassVar[str] = "build/longer-than-run"

    @property
    def message(self) -> str:
        return f"the run lasts {self.lasts}, so nothing can be powered for {self.written} in it"

    @property
    def help(self) -> str:
        return "raise `lasts`, or write `powered throughout`"
