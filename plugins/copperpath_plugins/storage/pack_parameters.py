"""What a station file may say of a lithium battery with a protection board, whatever its cells."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath.plugin_api import Ambient, AnyParameter, Parameter
from copperpath_plugins.storage.resistance_by_charge import empty_resistance


@dataclass(frozen=True)
class Chemistry:
    """What differs from one kind of cell to the other, as numbers and as words for the help.

    Attributes
    ----------
    cells : Parameter
        The count of cells in series.
    cutoff_v, wake_v, highest_v : float
        Volts a cell at which a board cuts off, at which it wakes, above which charging harms.
    warmths_k, available : tuple of float
        Share of the rated charge that can be drawn, by warmth.
    available_words, available_source : str
        The same, and where it comes from.
    efficiency, self_discharge : float
        Charge that comes out again as a share of what went in; share lost in a month at 25 °C.
    efficiency_basis, self_discharge_basis : str
        Where the two come from.
    examples : tuple of str
        A cut-off and a wake voltage as a file would give them.
    """

    cells: Parameter
    cutoff_v: float
    wake_v: float
    highest_v: float
    warmths_k: tuple[float, ...]
    available: tuple[float, ...]
    available_words: str
    available_source: str
    efficiency: float
    efficiency_basis: str
    self_discharge: float
    self_discharge_basis: str
    examples: tuple[str, str]


def pack_parameters(chemistry: Chemistry) -> tuple[AnyParameter, ...]:
    """The parameters of a battery of such cells."""
    return (
        chemistry.cells,
        *CHARGE,
        Parameter(
            "efficiency",
            "share",
            "charge that can be drawn again as a share of what went in",
            default=chemistry.efficiency,
            low=0.5,
            high=1.0,
            bound_reason="a battery gives no more charge than it took",
            basis=chemistry.efficiency_basis,
            example="99 %",
            shown_unit="%",
        ),
        Parameter(
            "self_discharge",
            "share",
            "what it loses in a month at 25 degC when full, twice as much 10 K warmer",
            default=chemistry.self_discharge,
            low=0.0,
            high=1.0,
            bound_reason="it loses between nothing and everything",
            basis=chemistry.self_discharge_basis,
            example="2 %",
            shown_unit="%",
        ),
        *CURRENT,
        *_board(chemistry),
        BOARD_CURRENT,
        Ambient("temperature", "temperature around the battery"),
        Parameter(
            "thermal_lag",
            "time",
            "how long the cells take to follow the temperature around them",
            default=7200.0,
            low=0.0,
            bound_reason="a delay is not negative",
            basis="a pack of about a kilogram in its case, from memory",
            example="2 h",
            shown_unit="h",
        ),
    )


BOARD_CURRENT = Parameter(
    "board_current",
    "current",
    "what its protection board takes from the cells, until it has locked itself off",
    default=0.0,
    low=0.0,
    high=1.0,
    bound_reason="boards take between nothing and 1 A",
    basis="nothing, unless the file gives it: 1 to 20 mA is common practice, no source",
    example="5 mA",
    shown_unit="mA",
)


def _board(chemistry: Chemistry) -> tuple[AnyParameter, ...]:
    """Where the board cuts off and wakes, and how much can be drawn in the cold."""
    return (
        Parameter(
            "cutoff",
            "voltage",
            f"voltage at which its board cuts off; {chemistry.cutoff_v:g} V a cell if not given "
            "(from memory)",
            low=0.5,
            high=120.0,
            bound_reason="a cut-off lies between 0.5 V and 120 V",
            basis=f"{chemistry.cutoff_v:g} V a cell, from memory",
            example=chemistry.examples[0],
            shown_unit="V",
        ),
        Parameter(
            "wake",
            "voltage",
            "voltage at its poles, held by something else, that wakes the board after it has cut "
            f"off; {chemistry.wake_v:g} V a cell if not given (from memory)",
            low=0.5,
            high=120.0,
            bound_reason="boards wake somewhere between 0.5 V and 120 V",
            basis=f"{chemistry.wake_v:g} V a cell, from memory",
            example=chemistry.examples[1],
            shown_unit="V",
        ),
        Parameter(
            "available",
            "share",
            "share of the rated charge that can be drawn; if not given, "
            f"{chemistry.available_words} ({chemistry.available_source})",
            low=0.01,
            high=1.0,
            bound_reason="at least 1 % and at most all of the rated charge can be drawn",
            basis=f"by warmth: {chemistry.available_words}, {chemistry.available_source}",
            example="85 %",
            shown_unit="%",
        ),
    )


CHARGE_AT_START = Parameter(
    "charge",
    "share",
    "how full it is at the start",
    default=1.0,
    low=0.0,
    high=1.0,
    bound_reason="0 % is an empty battery, 100 % a full one",
    basis="charged before leaving",
    example="90 %",
    shown_unit="%",
)
RESERVE = Parameter(
    "reserve",
    "share",
    "share of the usable charge that is not planned with",
    default=0.0,
    low=0.0,
    high=1.0,
    bound_reason="a reserve is a share of the usable charge",
    basis="no reserve is kept unless the file asks for one",
    example="10 %",
    shown_unit="%",
)
CHARGE = (
    Parameter(
        "capacity",
        "charge",
        "rated charge at 25 degC",
        required=True,
        low=0.0,
        low_allowed=False,
        bound_reason="a battery without capacity stores nothing",
        example="12 Ah",
        shown_unit="Ah",
    ),
    CHARGE_AT_START,
    RESERVE,
)
CURRENT = (
    Parameter(
        "resistance",
        "resistance",
        "resistance of cells and protection board at 25 degC; twice that at 0 degC; "
        "12 mohm at 100 Ah, growing as capacity falls, if not given (from memory)",
        low=1e-5,
        high=10.0,
        bound_reason="a battery has between 10 µohm and 10 ohm",
        basis="12 mohm at 100 Ah, growing as capacity falls, from memory",
        example="45 mohm",
        shown_unit="mohm",
    ),
    empty_resistance(
        1.0,
        "a cell computed from a published parameter set is met by a resistance that stays (Prada "
        "and others, J. Electrochem. Soc. 160 (2013) A616)",
    ),
    Parameter(
        "charge_limit",
        "current",
        "the most current it takes; half its capacity in an hour if not given "
        "(common practice, no source)",
        low=0.0,
        bound_reason="a battery that is charged takes current",
        basis="half its capacity in an hour, common practice, no source",
        example="6 A",
        shown_unit="A",
    ),
    Parameter(
        "discharge_limit",
        "current",
        "the most current that its board lets out; for the wiring rules alone, it opens nothing",
        low=0.0,
        low_allowed=False,
        bound_reason="a battery that is used gives current",
        example="50 A",
        shown_unit="A",
    ),
    Parameter(
        "charge_above",
        "temperature",
        "cell temperature below which it refuses charge",
        default=273.15,
        low=173.15,
        high=333.15,
        bound_reason="protection boards block somewhere between -100 degC and 60 degC",
        basis="lithium cells plate metal when charged below 0 degC; common practice, no source",
        example="0 degC",
        shown_unit="degC",
    ),
)
