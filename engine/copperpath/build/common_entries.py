"""The entries that every device takes: `mass`, `priority`, `note`, `accept` and `confirm`."""

from __future__ import annotations

from copperpath.build.accepting import ACCEPTING, read_accepting
from copperpath.build.build_errors import WrongForm
from copperpath.build.scope import Scope
from copperpath.build.single_values import only_value, read_bounded
from copperpath_grammar.value_nodes import Entry, Text

COMMON = ("mass", "priority", "note", *ACCEPTING)


def read_common(entry: Entry, scope: Scope) -> float | None:
    """Kilograms of a `mass`, the number of a `priority`; None for the others or after a report."""
    name, value = entry.name.text, only_value(entry)
    if name in ACCEPTING:
        read_accepting((entry,), "", scope)
        return None
    if name == "note":
        if not isinstance(value, Text):
            scope.report(WrongForm(entry.span, name, "a text in double quotes", 'note "borrowed"'))
        return None
    if value is None:
        if name == "mass":
            scope.report(WrongForm(entry.span, name, "what it weighs", "mass 1.2 kg"))
        else:
            takes = "a whole number; 1 is the last to be switched off"
            scope.report(WrongForm(entry.span, name, takes, "priority 1"))
        return None
    if name == "mass":
        return read_mass(entry, scope)
    return read_bounded(
        value,
        "number",
        name,
        scope,
        low=1.0,
        high=99.0,
        reason="1 is the last to be switched off, larger numbers go first",
        example="1",
        whole=True,
    )


def read_mass(entry: Entry, scope: Scope) -> float | None:
    """A mass of at least nothing [kg]."""
    value = only_value(entry)
    if value is None:
        scope.report(WrongForm(entry.span, "mass", "what it weighs", "mass 0.2 kg"))
        return None
    return read_bounded(
        value, "mass", "mass", scope, low=0.0, reason="nothing weighs less than nothing", unit="kg"
    )
