"""Named values as far as counts and indices need them, while the file is still being taken apart.

A mistake in a `let` line is not told here: the builder settles all of them later and tells it.
"""

from __future__ import annotations

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
            known = {**self._settled, **dict.fromkeys(self.unknown)}
            self._settled.update(settle_values(wanted, Scope(known, [], scope.broken)))
        names = {each.value_name for each in references_in(expression)}
        if not names <= self._settled.keys():
            # One is unknown or has no value: the message may want all names.
            everything = dict.fromkeys((*self.lets, *self.unknown))
            return Scope({**everything, **self._settled}, scope.problems, scope.broken)
        return Scope({name: self._settled[name] for name in names}, scope.problems, scope.broken)
