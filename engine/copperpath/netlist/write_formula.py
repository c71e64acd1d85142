"""A formula as the text of a behavioural source.

Every operation stands in brackets, so no rule of precedence is relied on. A whole power is
written as a product, since simulators disagree on powers of what is negative. A number of more
than eleven digits is written as a sum of two: a widespread simulator keeps eleven.
"""

from __future__ import annotations

import math
from collections import Counter

from copperpath.netlist.expression import CannotBeWritten, Expression, Part

DIGITS = 11
LONGEST = 4000
"""A formula of more characters than this gives its repeated parts lines of their own."""
FEWEST = 60
"""A repeated part of fewer characters than this is written again all the same."""

INFIX = {
    "+": "+",
    "-": "-",
    "*": "*",
    "/": "/",
    "<": "<",
    "<=": "<=",
    ">": ">",
    ">=": ">=",
    "&": "&&",
    "|": "||",
}
FUNCTIONS = ("min", "max", "abs", "exp", "ln", "sqrt")
MOST_PRODUCT = 8
"""Whole powers up to this are written as products."""


def number_text(value: float) -> str:
    """A number that keeps all its digits where no more than eleven are read.

    Raises
    ------
    CannotBeWritten
        If it is not finite.
    """
    if not math.isfinite(value):
        raise CannotBeWritten(f"a law holds {value}, which is no number")
    value = float(value)
    text = repr(value)
    rough = f"{value:.{DIGITS - 1}e}"
    if float(rough) == value:
        return f"({text})" if value < 0.0 else text
    return f"({float(rough)!r}{value - float(rough):+.{DIGITS - 1}e})"


class FormulaWriter:
    """Writes formulas; keeps those parts that got a name of their own in `lines`.

    Attributes
    ----------
    lines : list of (name, text)
        Helper nodes: the voltage of `name` is the value of the formula.
    """

    def __init__(self, prefix: str) -> None:
        self.prefix = prefix
        self.lines: list[tuple[str, str]] = []
        self._lengths: dict[int, int] = {}
        self._named: dict[int, str] = {}

    def text(self, part: Part) -> str:
        """The text of a formula or number."""
        if self._length(part) > LONGEST:
            self._name_repeated(part)
        return self._written(part)

    def _name_repeated(self, part: Part) -> None:
        """Give each part that is used more than once a line of its own, inner ones first."""
        uses: Counter[int] = Counter()
        order: list[Expression] = []
        waiting: list[tuple[Part, bool]] = [(part, False)]
        while waiting:
            here, left = waiting.pop()
            if not isinstance(here, Expression):
                continue
            if left:
                order.append(here)
                continue
            uses[id(here)] += 1
            if uses[id(here)] == 1:
                waiting.append((here, True))
                waiting += [(inner, False) for inner in here.parts]
        for here in order:
            if uses[id(here)] > 1 and self._length(here) > FEWEST and id(here) not in self._named:
                text = self._written(here)
                name = f"{self.prefix}h{len(self.lines) + 1}"
                self.lines.append((name, text))
                self._named[id(here)] = f"v({name})"

    def _length(self, part: Part) -> int:
        """About how many characters a formula takes when all of it is written out."""
        if not isinstance(part, Expression):
            return 20
        waiting: list[Part] = [part]
        while waiting:
            here = waiting[-1]
            assert isinstance(here, Expression)
            missing: list[Part] = [
                inner
                for inner in here.parts
                if isinstance(inner, Expression) and id(inner) not in self._lengths
            ]
            if missing:
                waiting += missing
                continue
            waiting.pop()
            inside = (
                self._lengths[id(inner)] if isinstance(inner, Expression) else 20
                for inner in here.parts
            )
            self._lengths[id(here)] = 8 + sum(inside)
        return self._lengths[id(part)]

    def _written(self, part: Part) -> str:
        if not isinstance(part, Expression):
            return number_text(part)
        if id(part) in self._named:
            return self._named[id(part)]
        if part.word == "volts":
            return f"v({part.node})"
        if part.word == "**":
            return self._power(*part.parts)
        inside = [self._written(inner) for inner in part.parts]
        if part.word in INFIX:
            return f"({inside[0]} {INFIX[part.word]} {inside[1]})"
        if part.word in FUNCTIONS:
            return f"{part.word}({', '.join(inside)})"
        if part.word == "neg":
            return f"(0 - {inside[0]})"
        if part.word == "where":
            return f"({inside[0]} ? {inside[1]} : {inside[2]})"
        raise CannotBeWritten(f"no simulator's word is known for `{part.word}`")

    def _power(self, base: Part, exponent: Part) -> str:
        inside = self._written(base)
        if isinstance(exponent, float) and exponent.is_integer() and abs(exponent) <= MOST_PRODUCT:
            product = "*".join([inside] * int(abs(exponent))) or "1.0"
            return f"({product})" if exponent >= 0.0 else f"(1.0 / ({product}))"
        return f"pow({inside}, {self._written(exponent)})"
