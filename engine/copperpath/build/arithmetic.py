"""Expressions with units to SI values, dimensions checked. Nothing is ever handed to Python.

Not here: which dimension an entry wants; see `single_values`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from copperpath.build.scope import Scope
from copperpath.build.value_errors import (
    CannotCombine,
    DivisionByZero,
    MinusTemperature,
    NotANumber,
    TooLarge,
    UnknownUnit,
    UnknownValue,
)
from copperpath.quantities import Quantity, UnitProblem, read_measure
from copperpath.quantities.units import GAUGE, PLAIN, WARMTH, combined
from copperpath_grammar.value_nodes import (
    Arithmetic,
    Clock,
    Coordinate,
    Date,
    Expression,
    Measure,
    Moment,
    Negative,
    Number,
    Range,
    Reference,
    Text,
)

NOUNS: dict[type, str] = {
    Clock: "a time of day",
    Date: "a date",
    Moment: "a date and a time",
    Text: "a text",
    Range: "a range of two values",
    Coordinate: "a place on the map",
}


def evaluate(expression: Expression, scope: Scope) -> Quantity | None:
    """The value of an expression, or None after its mistake was reported.

    Works down the left side without recursion, so that a very long sum is no danger; how deep
    brackets may go is bounded by the parser.
    """
    pending: list[Arithmetic] = []
    while isinstance(expression, Arithmetic):
        pending.append(expression)
        expression = expression.left
    found = _single(expression, scope)
    for step in reversed(pending):
        right = evaluate(step.right, scope)
        found = None if found is None or right is None else _combine(step, found, right, scope)
    return found


def references_in(expression: Expression) -> Iterator[Reference]:
    """All words and dotted paths of an expression, without recursion."""
    waiting: list[Expression] = [expression]
    while waiting:
        node = waiting.pop()
        match node:
            case Reference():
                yield node
            case Arithmetic():
                waiting += (node.left, node.right)
            case Range():
                waiting += (node.low, node.high)
            case Negative():
                waiting.append(node.operand)


def _single(expression: Expression, scope: Scope) -> Quantity | None:
    minus = None
    negative = False
    while isinstance(expression, Negative):
        minus = minus or expression
        negative = not negative
        expression = expression.operand
    if isinstance(expression, Arithmetic):
        found = evaluate(expression, scope)
    else:
        found = _plain(expression, scope)
    if found is None or minus is None:
        return found
    if found.absolute and not isinstance(expression, Measure):
        scope.report(MinusTemperature(minus.span))
        return None
    if not negative:
        return found
    if found.absolute and isinstance(expression, Measure):
        return _measure(Measure(-expression.value, expression.unit, expression.span), scope)
    if found.dims == GAUGE:
        return found
    return Quantity(-found.value, found.dims, found.absolute, found.percent)


def _plain(expression: Expression, scope: Scope) -> Quantity | None:
    match expression:
        case Number() | Measure(unit=""):
            return Quantity(expression.value)
        case Measure():
            return _measure(expression, scope)
        case Coordinate(letter="W"):
            # `5 W` in a device is watts, however the lexer took it.
            return read_measure(expression.degrees, "W")
        case Reference():
            return _named(expression, scope)
    scope.report(NotANumber(expression.span, expression.span.text, NOUNS[type(expression)]))
    return None


def _measure(measure: Measure, scope: Scope) -> Quantity | None:
    try:
        found = read_measure(measure.value, measure.unit)
    except UnitProblem as problem:
        scope.report(UnknownUnit(measure.span, measure.unit, problem.near))
        return None
    except OverflowError:
        scope.report(TooLarge(measure.span))
        return None
    if not math.isfinite(found.value):
        scope.report(TooLarge(measure.span))
        return None
    return found


def _named(reference: Reference, scope: Scope) -> Quantity | None:
    name = reference.text
    if reference.value_name in scope.values:
        return scope.values[reference.value_name]
    if not scope.may_be_unread(name, "let"):
        near = scope.near(name, _proposals(scope)) if scope.gives_hints else ""
        scope.report(UnknownValue(reference.span, name, near))
    return None


def _proposals(scope: Scope) -> list[str]:
    """What a mistyped name may have been meant as; a kit's values go by their last word."""
    plain = [each for each in scope.values if "." not in each]
    return [*plain, *(each.rpartition(".")[2] for each in scope.values)]


def _combine(step: Arithmetic, left: Quantity, right: Quantity, scope: Scope) -> Quantity | None:
    if left.dims == GAUGE or right.dims == GAUGE:
        _refuse(step, left, right, scope, "give wire by its area to reckon with it: `2.5 mm2`")
        return None
    try:
        if step.operator in "+-":
            found = _sum(step, left, right, scope)
        else:
            found = _product(step, left, right, scope)
    except OverflowError:
        found = Quantity(math.inf)
    if found is not None and not math.isfinite(found.value):
        scope.report(TooLarge(step.span))
        return None
    return found


def _sum(step: Arithmetic, left: Quantity, right: Quantity, scope: Scope) -> Quantity | None:
    sign = 1.0 if step.operator == "+" else -1.0
    if left.dims != right.dims:
        _refuse(step, left, right, scope, "")
        return None
    value = left.value + sign * right.value
    if left.dims == WARMTH:
        if right.absolute and not (left.absolute and step.operator == "-"):
            advice = (
                f"write the second as a difference, such as `6 K`, not `{step.right.span.text}`"
            )
            _refuse(step, left, right, scope, advice)
            return None
        return Quantity(value, WARMTH, left.absolute and not right.absolute)
    return Quantity(value, left.dims, percent=left.percent and right.percent)


def _product(step: Arithmetic, left: Quantity, right: Quantity, scope: Scope) -> Quantity | None:
    if left.absolute or right.absolute:
        _refuse(step, left, right, scope, "only differences in K can be multiplied or divided")
        return None
    if step.operator == "*":
        dims = combined(left.dims, right.dims)
        percent = dims == PLAIN and (left.percent or right.percent)
        return Quantity(left.value * right.value, dims, percent=percent)
    if right.value == 0.0:
        scope.report(DivisionByZero(step.span))
        return None
    dims = combined(left.dims, right.dims, -1)
    percent = dims == PLAIN and left.percent and not right.percent
    return Quantity(left.value / right.value, dims, percent=percent)


def _refuse(step: Arithmetic, left: Quantity, right: Quantity, scope: Scope, advice: str) -> None:
    scope.report(CannotCombine(step.span, step.operator, left.noun, right.noun, advice))
