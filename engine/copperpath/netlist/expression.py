"""Laws as formulas: objects that stand for voltages and remember what is done with them.

A model's law is called once with such objects for its voltages and with plain numbers for all
else. What comes back is the formula of each current at that instant, whatever model it is. They
take `+ - * / **`, comparisons joined with `& |`, the numpy functions that laws may use, and so
the helpers of `copperpath.plugin_api` as they stand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias, Union

import numpy as np

Part: TypeAlias = Union["Expression", float]
"""What a formula is made of: a formula, or a number."""

UFUNCS: dict[Any, str] = {
    np.add: "+",
    np.subtract: "-",
    np.multiply: "*",
    np.true_divide: "/",
    np.power: "**",
    np.less: "<",
    np.less_equal: "<=",
    np.greater: ">",
    np.greater_equal: ">=",
    np.bitwise_and: "&",
    np.logical_and: "&",
    np.bitwise_or: "|",
    np.logical_or: "|",
    np.minimum: "min",
    np.maximum: "max",
    np.absolute: "abs",
    np.exp: "exp",
    np.log: "ln",
    np.sqrt: "sqrt",
    np.negative: "neg",
}
"""The numpy functions that laws may use, by the word that an `Expression` keeps."""


class CannotBeWritten(Exception):
    """A law does something that no formula can say; the text names what."""


@dataclass(frozen=True, slots=True, eq=False)
class Expression:
    """A formula: `word` names the operation, `parts` what it works on; a voltage has the word
    "volts" and its node's name. Two are the same only if they are one object."""

    word: str
    parts: tuple[Part, ...] = ()
    node: str = ""

    def __add__(self, other: Any) -> Part:
        return formula("+", self, other)

    def __radd__(self, other: Any) -> Part:
        return formula("+", other, self)

    def __sub__(self, other: Any) -> Part:
        return formula("-", self, other)

    def __rsub__(self, other: Any) -> Part:
        return formula("-", other, self)

    def __mul__(self, other: Any) -> Part:
        return formula("*", self, other)

    def __rmul__(self, other: Any) -> Part:
        return formula("*", other, self)

    def __truediv__(self, other: Any) -> Part:
        return formula("/", self, other)

    def __rtruediv__(self, other: Any) -> Part:
        return formula("/", other, self)

    def __pow__(self, other: Any) -> Part:
        return formula("**", self, other)

    def __rpow__(self, other: Any) -> Part:
        return formula("**", other, self)

    def __neg__(self) -> Part:
        return formula("neg", self)

    def __pos__(self) -> Part:
        return self

    def __abs__(self) -> Part:
        return formula("abs", self)

    def __lt__(self, other: Any) -> Part:
        return formula("<", self, other)

    def __le__(self, other: Any) -> Part:
        return formula("<=", self, other)

    def __gt__(self, other: Any) -> Part:
        return formula(">", self, other)

    def __ge__(self, other: Any) -> Part:
        return formula(">=", self, other)

    def __and__(self, other: Any) -> Part:
        return formula("&", self, other)

    def __rand__(self, other: Any) -> Part:
        return formula("&", other, self)

    def __or__(self, other: Any) -> Part:
        return formula("|", self, other)

    def __ror__(self, other: Any) -> Part:
        return formula("|", other, self)

    def __eq__(self, other: object) -> bool:
        raise CannotBeWritten("a law that asks whether a voltage equals something has a jump there")

    __hash__ = object.__hash__

    def __bool__(self) -> bool:
        raise CannotBeWritten("a law may not decide by `if`, `and`, `or` or `1 < a < 3`")

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any, **further: Any) -> Part:
        """What numpy does with a formula."""
        if ufunc not in UFUNCS or method != "__call__" or further:
            raise CannotBeWritten(f"a law may not use `np.{ufunc.__name__}`")
        return formula(UFUNCS[ufunc], *inputs)

    def __array_function__(
        self, function: Any, types: Any, given: tuple[Any, ...], further: dict[str, Any]
    ) -> Part:
        """`np.where` and `np.interp`, which the helpers `where` and `table` are."""
        if function is np.where and len(given) == 3 and not further:
            return chosen(*given)
        if function is np.interp and len(given) == 3 and not further:
            return straight_lines(*given)
        raise CannotBeWritten(f"a law may not use `np.{function.__name__}`")


def volts(node: str) -> Expression:
    """The voltage of a node of the netlist."""
    return Expression("volts", (), node)


def as_part(value: Any) -> Part:
    """A formula as it is, anything else as a number."""
    if isinstance(value, Expression):
        return value
    return float(value)


def formula(word: str, *given: Any) -> Part:
    """A formula of these parts; where a part is 0 or 1 the shorter one that means the same."""
    parts = tuple(as_part(value) for value in given)
    return _shorter(word, parts) if len(parts) == 2 else Expression(word, parts)


def chosen(condition: Any, yes: Any, no: Any) -> Part:
    """`yes` where the condition holds, else `no`; decided here if it is known."""
    condition = as_part(condition)
    if isinstance(condition, float):
        return as_part(yes if condition != 0.0 else no)
    return Expression("where", (condition, as_part(yes), as_part(no)))


def straight_lines(place: Any, xs: Any, ys: Any) -> Part:
    """Straight lines through the points (xs, ys), level beyond both ends, as a sum.

    Each line counts for as much of it as `place` has passed, so that the formula is continuous
    and level outside whatever a simulator makes of a table of its own.
    """
    places, values = [float(x) for x in xs], [float(y) for y in ys]
    total: Part = values[0]
    for left, right, low, high in zip(places, places[1:], values, values[1:], strict=False):
        passed = formula("min", formula("max", place, left), right) - left
        total = total + (high - low) / (right - left) * passed
    return total


def _shorter(word: str, parts: tuple[Part, ...]) -> Part:
    one, other = parts
    if word == "*" and 0.0 in _numbers(parts):
        return 0.0
    left, right = _number(one), _number(other)
    nothing = (word == "+" and left == 0.0) or (word == "*" and left == 1.0)
    if nothing:
        return other
    nothing = (word in ("+", "-") and right == 0.0) or (word in ("*", "/") and right == 1.0)
    if nothing:
        return one
    if word == "/" and left == 0.0:
        return 0.0
    if word == "&" and 0.0 in (left, right):
        return 0.0
    return Expression(word, parts)


def _number(part: Part) -> float | None:
    return part if isinstance(part, float) else None


def _numbers(parts: tuple[Part, ...]) -> list[float]:
    return [part for part in parts if isinstance(part, float)]
