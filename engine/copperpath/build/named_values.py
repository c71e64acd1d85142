"""The `let` lines: settled in the order in which they need each other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from copperpath.build.arithmetic import evaluate, references_in
from copperpath.build.scope import Scope
from copperpath.build.value_errors import UnusedValue, ValueCycle
from copperpath.quantities import Quantity
from copperpath_grammar.nodes import LetNode


def settle_values(
    lets: Mapping[str, LetNode], scope: Scope, into: dict[str, Quantity | None] | None = None
) -> dict[str, Quantity | None]:
    """The value of each name; None where its line is wrong, which is reported.

    Names that need nothing come first, then those that need only these, and so on; what is left
    goes round in a circle or hangs on one. Values that are known already are in
    `scope`, or in `into`, where the others are then put.
    """
    needs = {
        name: {each.value_name for each in references_in(let.value)} & lets.keys()
        for name, let in lets.items()
    }
    users: dict[str, list[str]] = {name: [] for name in lets}
    for name, needed in needs.items():
        for each in needed:
            users[each].append(name)
    open_needs = {name: len(needed) for name, needed in needs.items()}
    ready = [name for name, count in open_needs.items() if count == 0]
    values: dict[str, Quantity | None] = dict(scope.values) if into is None else into
    values.update(dict.fromkeys(lets))
    inner = Scope(values, scope.problems, scope.broken)
    settled: set[str] = set()
    while ready:
        name = ready.pop()
        values[name] = evaluate(lets[name].value, inner)
        settled.add(name)
        for user in users[name]:
            open_needs[user] -= 1
            if open_needs[user] == 0:
                ready.append(user)
    left = [name for name in lets if name not in settled]
    for cycle in circles(left, needs):
        written = tuple(lets[name].name.span.text for name in cycle)
        scope.report(ValueCycle(lets[cycle[0]].name.span, written))
    return values


def report_unused(lets: Mapping[str, LetNode], used: Iterable[str], scope: Scope) -> None:
    """Report each name that nothing uses."""
    names = set(used)
    for name, let in lets.items():
        if name not in names:
            scope.report(UnusedValue(let.name.span, let.name.span.text))


def circles(left: list[str], needs: Mapping[str, set[str]]) -> list[tuple[str, ...]]:
    """The circles among names that could not be settled, each begun at its first name."""
    order = {name: index for index, name in enumerate(left)}
    found = []
    seen: set[str] = set()
    for start in left:
        path: list[str] = []
        place: dict[str, int] = {}
        name = start
        while name not in seen:
            seen.add(name)
            place[name] = len(path)
            path.append(name)
            name = min(needs[name] & order.keys())
        if name in place:
            cycle = path[place[name] :]
            first = min(range(len(cycle)), key=lambda index: order[cycle[index]])
            found.append(tuple(cycle[first:] + cycle[:first]))
    return found
