"""The class that a device model is.

A model *declares*; the engine computes. A contributor writes one class in one file and needs no
knowledge of the solver. docs/plugin_authors.md says what a version of the interface promises.
"""

from __future__ import annotations

from abc import ABC
from dataclasses import dataclass
from typing import Any, ClassVar, Literal, TypeAlias

from copperpath.plugin_api.arrays import FloatArray
from copperpath.plugin_api.parameters import AnyParameter, Values
from copperpath.plugin_api.states import State
from copperpath.plugin_api.surroundings import Surroundings
from copperpath.plugin_api.terminals import Terminal, Ways

INTERFACE_VERSION = 1
"""The version of the interface that this program has; a model for another one is refused."""

Kind: TypeAlias = Literal["source", "converter", "storage", "block", "load"]


@dataclass(frozen=True, slots=True)
class Keying:
    """A radio that is keyed for a share of the time. `share` names a drive (0 to 1, 0 when the
    radio is off); `mode` and `mode_square` name parameters (declared or derived): the mean and
    the mean square of the level while keyed. The engine fills the drive `level`:
    0 receiving, 1 fully keyed."""

    share: str = "share"
    mode: str = "mode_mean"
    mode_square: str = "mode_mean_square"


@dataclass(frozen=True, slots=True)
class Link:
    """A plain resistance between two terminals of a block [ohm], solved like a cable."""

    start: str
    end: str
    ohm: float


@dataclass(frozen=True, slots=True)
class Suspect:
    """A possible cause of a failure, tried by solving again without it.

    `cause` reads after "cause:" ("charging blocked by cold"); `remedy` names the mend.
    `change` gives parameters (declared or derived) their value in the trial: a number, or
    `"*2"` for twice the old value. `sizing` marks those that only make something bigger, which
    can mend nearly anything and so are named last. `latch` names the state that shows, by having
    been set during the run, that this really happened.
    """

    cause: str
    remedy: str
    change: tuple[tuple[str, float | str], ...]
    sizing: bool = False
    latch: str = ""


class Model(ABC):
    """Base of every device model.

    Class attributes declare; four optional static methods compute.

    interface   the version of the interface that the model was written for, a plain number in the
                class's own body: it is not inherited.
    parameters  what the file may say. `mass`, `priority` and `note` are known to every device
                and not listed.
    terminals   in the order in which `law` takes voltages and returns currents.
    inner       private nodes, seen by the law like terminals, after them.
    derived     names that `derive` adds to the parameters the law sees.
    drives      names of per-step inputs that `drive` makes. Two more are filled in by the
                engine: `level` if `keying` is set, `offer` if a terminal is seeking.
    states      what it remembers.
    powered     for loads: (terminal, parameter) - it is powered while the worst-instant voltage at
                that terminal is at or above that parameter's value; where that cannot be, the
                load is given up for the step. For converters: the least input at which it works,
                which is only told.
    demand      for loads: name of the drive (0 to 1) that tells whether it is wanted.
    bridged     for loads with a battery of their own: (state, drive) - it counts as powered too
                while that state stays above zero to the end of the step, and by its voltage only
                while that drive, which says that it is plugged in, is above zero.
    spare       for loads: it takes only what is left over (a relay of its own connects it), so it
                is never short and never given up.
    on_surplus  for loads: name of the model, a `spare` one, that stands for it where the file says
                `runs on surplus`.
    one_way     for blocks: current passes one way only (a diode), so that what hangs on its two
                sides is not joined.
    concave     for sources: the higher its voltage, the less it gives, and it falls ever faster
                (the curve of a bare panel), so that its power has one hump. The engine then
                looks for that one alone.
    pushes      for what gives power: name of the parameter (declared or derived) that is the
                highest voltage it puts out (at its mains terminals, if it has any).
    """

    interface: ClassVar[int]
    name: ClassVar[str] = ""
    kind: ClassVar[Kind]
    summary: ClassVar[str] = ""
    leaves_out: ClassVar[str] = ""
    parameters: ClassVar[tuple[AnyParameter, ...]] = ()
    terminals: ClassVar[tuple[Terminal | Ways, ...]] = ()
    inner: ClassVar[tuple[str, ...]] = ()
    derived: ClassVar[tuple[str, ...]] = ()
    drives: ClassVar[tuple[str, ...]] = ()
    states: ClassVar[tuple[State, ...]] = ()
    keying: ClassVar[Keying | None] = None
    powered: ClassVar[tuple[str, str] | None] = None
    demand: ClassVar[str] = ""
    bridged: ClassVar[tuple[str, str] | None] = None
    spare: ClassVar[bool] = False
    on_surplus: ClassVar[str] = ""
    pushes: ClassVar[str] = ""
    one_way: ClassVar[bool] = False
    concave: ClassVar[bool] = False
    suspects: ClassVar[tuple[Suspect, ...]] = ()

    @staticmethod
    def derive(p: Values) -> dict[str, float]:
        """Values for the names in `derived`, worked out once from the parameters.

        Raises
        ------
        ParameterProblem
            If the values do not fit each other.
        """
        return {}

    @staticmethod
    def drive(site: Surroundings, p: Values) -> dict[str, FloatArray]:
        """Arrays (time,) for the names in `drives`, worked out once for a run."""
        return {}

    @staticmethod
    def at_record_low(air_k: float, p: Values) -> dict[str, float]:
        """For sources whose voltage rises in the cold: a value for each of `drives` in full sun at
        the coldest air on record [K]; empty for all others."""
        return {}

    @staticmethod
    def links(p: Values) -> tuple[Link, ...]:
        """For a block without a law: plain resistances between its terminals."""
        return ()

    # Elementwise functions, given as static methods where they apply:
    #   law(v, x, d, p)       -> tuple, one current per terminal and inner node [A], positive INTO
    #                            the device; watts for a seeking terminal
    #   floor(v, x, d, p)     -> lowest admissible voltage at the seeking terminal [V]
    #   watch(v, i, x, d, p)  -> flat tuple of signals in the order of `states`
    #   heat(v, i, x, d, p)   -> watts turned to heat inside (converters, storage)
    #   store(v, i, x, d, p)  -> watts into the store: open-circuit voltage times current
    #   lowest_planned(x, p)  -> for storage: charge (share of rated) at which the reserve is
    #                            reached
    #   contents(charge, p)   -> for storage: energy held at that charge [J], for the cross-check
    #                            of the ledger (a state function)
    # v, x, d, p are named tuples of terminals, states, drives and parameters (SI).
    law: ClassVar[Any] = None
    floor: ClassVar[Any] = None
    watch: ClassVar[Any] = None
    heat: ClassVar[Any] = None
    store: ClassVar[Any] = None
    lowest_planned: ClassVar[Any] = None
    contents: ClassVar[Any] = None
