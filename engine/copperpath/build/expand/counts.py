"""How many there are of one kind, and which of them an index means: whole numbers from 1 to 500."""

from __future__ import annotations

from copperpath.build.arithmetic import evaluate, references_in
from copperpath.build.expand.expand_errors import BadCount, BadIndex, RangeBackwards
from copperpath.build.expand.values import NamedValues
from copperpath.build.scope import Scope
from copperpath.quantities.units import PLAIN
from copperpath_grammar.value_nodes import Expression, Index, Number

MOST = 500
"""Of one kind; more things than that nobody writes down as one."""


def count_of(name: str, expression: Expression, values: NamedValues, scope: Scope) -> int | None:
    """The number in `handheld[6]`; None after a report, or if a named value in it is wrong."""
    number = _whole(expression, values, scope)
    if isinstance(number, str):
        scope.report(BadCount(expression.span, name, number, MOST))
        return None
    return number


def numbers_of(
    written: str, index: Index, values: NamedValues, scope: Scope
) -> tuple[int, ...] | None:
    """The numbers that `[3]` or `[1..6]` means; None after a report, or if a value is wrong."""
    found = []
    for expression in (index.first, index.last):
        if expression is None:
            continue
        number = _whole(expression, values, scope)
        if isinstance(number, str):
            scope.report(BadIndex(expression.span, written, number, MOST))
            return None
        if number is None:
            return None
        found.append(number)
    if len(found) == 1:
        return (found[0],)
    low, high = found
    if low > high:
        scope.report(RangeBackwards(index.span, low, high))
        return None
    return tuple(range(low, high + 1))


def _whole(expression: Expression, values: NamedValues, scope: Scope) -> int | str | None:
    """A number from 1 to `MOST`, what was given instead, or None if that cannot be told."""
    if isinstance(expression, Number):
        value, plain = expression.value, True
    else:
        values.use(expression)
        found = evaluate(expression, values.scope_of(expression, scope))
        if found is None:
            return None
        value, plain = found.value, found.dims == PLAIN and not found.percent
    written = expression.span.text
    if not plain:
        return f"`{written}`"
    if value != round(value) or not 1 <= value <= MOST:
        reckoned = any(True for _ in references_in(expression)) or not written[:1].isdigit()
        return f"`{written}` ({value:g})" if reckoned else written
    return round(value)
