"""Named values as far as counts and indices need them, while the file is still being taken apart.

A mistake in a `let` line is not told here: the builder settles all of them later and tells it.
"""

from __future__ import annotations

from collections.abc import Iterable

from copperpath.build.arithmetic import references_in
from copperpath.build.named_values import settle_values
from copperpath.build.scope import Scope
from copperpath.quantities import Quantity
from copperpath_grammar.nodes import LetNode
from copperpath_grammar.value_nodes import Expression


class NamedValues:
    """All named values by their full names, settled when first wanted.

    `used` are the names that counts and indices speak of. `unknown` are parameters without a
    value, which is reported.
    """

    def __init__(self) -> None:
        self.lets: dict[str, LetNode] = {}
        self.used: set[str] = set()
        self.unknown: set[str] = set()
        self._settled: dict[str, Quantity | None] = {}

    def add(self, let: LetNode) -> None:
        """Take a value in; of two with one name the first stays."""
        self.lets.setdefault(let.name.text, let)

    def leave_unknown(self, names: Iterable[str]) -> None:
        """Note parameters that have no value."""
        self.unknown.update(names)
        self._settled.update(dict.fromkeys(names))

    def use(self, expression: Expression) -> None:
        """Note the names that an expression speaks of."""
        self.used.update(each.value_name for each in references_in(expression))

    def scope_of(self, expression: Expression, scope: Scope) -> Scope:
        """A scope in which the expression can be worked out; mistakes go on the list of `scope`."""
        wanted: dict[str, LetNode] = {}
        waiting = [each.value_name for each in references_in(expression)]
        while waiting:
            name = waiting.pop()
            if name in wanted or name in self._settled or name not in self.lets:
                continue
            wanted[name] = self.lets[name]
            waiting += [each.value_name for each in references_in(self.lets[name].value)]
        if wanted:
            settle_values(wanted, Scope({}, [], scope.broken), into=self._settled)
        names = {each.value_name for each in references_in(expression)}
        values = self._settled
        if not names <= values.keys() and scope.gives_hints:
            # One is unknown: the message may propose any of the names.
            values = {**dict.fromkeys(self.lets), **values}
        return Scope(values, scope.problems, scope.broken)
