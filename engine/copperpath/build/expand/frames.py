"""What stands in one network: the file itself, or one kit of an assembly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from copperpath_grammar.nodes import AssemblyNode, ExposeNode
from copperpath_grammar.value_nodes import Name


@dataclass(frozen=True, slots=True)
class Thing:
    """A declared device or kit. `count` is None for a single one; `sure` is False if how many
    there are could not be told, which is reported."""

    name: Name
    is_kit: bool
    count: int | None
    sure: bool = True

    def each(self) -> Iterator[str]:
        """The names of all of them: `rig`, or `handheld[1]`, `handheld[2]` and so on."""
        if self.count is None:
            yield self.name.text
        else:
            yield from (f"{self.name.text}[{index}]" for index in range(1, self.count + 1))


@dataclass(slots=True)
class Frame:
    """One network.

    Attributes
    ----------
    prefix : str
        What stands before the names of its things in the whole station: "" or `table[1].`.
    things : dict of str to Thing
        Its devices and kits.
    values : mapping of str to str
        The full names of its own named values, `rating` to `table[1].rating`; empty for the file.
    assembly : AssemblyNode or None
        What it is a copy of; None for the file.
    exposed : dict of str to ExposeNode
        Its terminals for the outside.
    kits : dict of str to Frame
        The networks of its kits, by the kit's name.
    broken : frozenset of str
        First words and names of its lines that could not be read.
    """

    prefix: str = ""
    things: dict[str, Thing] = field(default_factory=dict)
    values: Mapping[str, str] = field(default_factory=dict)
    assembly: AssemblyNode | None = None
    exposed: dict[str, ExposeNode] = field(default_factory=dict)
    kits: dict[str, Frame] = field(default_factory=dict)
    broken: frozenset[str] = frozenset()

    def may_be_unread(self, name: str) -> bool:
        """True if a line that declares this name may be among those that could not be read."""
        return bool(self.broken & {"", name})
