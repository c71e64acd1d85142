"""Where cables end: a written end to a terminal of a declared device."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from copperpath.build.devices import Known
from copperpath.build.scope import Scope
from copperpath.build.wiring_errors import (
    NotAnEnd,
    NotConnected,
    UnknownDevice,
    UnknownTerminal,
    WhichTerminal,
)
from copperpath.plugin_api import Model, Terminal, Ways
from copperpath.station import TerminalRef
from copperpath_grammar.value_nodes import Reference

MOST_WAYS = 64
"""Numbers taken for a terminal while the count of ways is itself in doubt."""


@dataclass(frozen=True, slots=True)
class End:
    """What is known of one end: the device it names ("" if there is none), the terminal if it is
    certain. An end at a device whose model is unknown has no terminal and is no mistake."""

    device: str
    terminal: TerminalRef | None


def find_end(reference: Reference, known: Mapping[str, Known], scope: Scope) -> End:
    """The terminal that an end means; mistakes are reported."""
    if len(reference.parts) > 2:
        scope.report(NotAnEnd(reference.span, reference.text))
        return End("", None)
    word = reference.parts[0]
    name = word.text
    device = known.get(name)
    if device is None:
        if not scope.may_be_unread(name):
            near = scope.near(name, known)
            scope.report(UnknownDevice(word.span, name, near))
            # The device that was meant has its cable, so nobody should miss it there.
            return End(near, None)
        return End("", None)
    if device.model is None:
        return End(name, None)
    if len(reference.parts) == 1:
        return End(name, _only_terminal(reference, device, scope))
    terminal = reference.parts[1]
    if _has(device, terminal.text):
        return End(name, TerminalRef(name, terminal.text))
    names = [t.name for t in device.model.terminals if isinstance(t, Terminal)]
    near = scope.near(terminal.text, names)
    scope.report(
        UnknownTerminal(terminal.span, name, terminal.text, near, terminals_in_words(device))
    )
    return End(name, None)


def terminals_in_words(device: Known) -> str:
    """ "`in`, and `1` to `4`"."""
    assert device.model is not None
    words = []
    for terminal in device.model.terminals:
        if isinstance(terminal, Terminal):
            words.append(f"`{terminal.name}` ({terminal.help})")
        else:
            last = "the last one" if device.ways is None else f"`{device.ways}`"
            words.append(f"`1` to {last} ({terminal.help})")
    return ", ".join(words)


def report_unconnected(
    known: Mapping[str, Known], used: set[TerminalRef], touched: set[str], scope: Scope
) -> None:
    """Report each terminal that matters and has no cable.

    Parameters
    ----------
    used : set of TerminalRef
        Terminals where a cable ends.
    touched : set of str
        Devices at which some cable ends in a way that is not certain: not complained about.
        "" stands for an end of which nothing is known: it may be any device's.
    """
    if scope.may_be_unread("cable") or "" in touched:
        return
    wired = {ref.device for ref in used}
    for name, device in known.items():
        if device.model is None or name in touched:
            continue
        open_ones = unconnected(name, device.model, used, wired)
        if not open_ones:
            continue
        span = device.node.name.span
        scope.report(NotConnected(span, open_ones[0], _example(open_ones[0], device)))


def unconnected(
    name: str, model: type[Model], used: set[TerminalRef], wired: set[str]
) -> list[str]:
    """Terminals that want a cable and have none; for a device of which none is used its name."""
    plain = [t.name for t in model.terminals if isinstance(t, Terminal) and not t.optional]
    if model.kind == "block":
        return [] if name in wired else [name]
    missing = [t for t in plain if TerminalRef(name, t) not in used]
    if len(missing) == len(plain) and len(plain) == 1:
        return [name]
    return [f"{name}.{terminal}" for terminal in missing]


def _example(terminal: str, device: Known) -> str:
    body = "{ length 1 m; wire 1.5 mm2 }"
    assert device.model is not None
    gives = device.model.kind in ("source", "storage") or any(
        isinstance(t, Terminal) and t.gives and terminal.endswith(f".{t.name}")
        for t in device.model.terminals
    )
    return f"cable {terminal} -> ... {body}" if gives else f"cable ... -> {terminal} {body}"


def _has(device: Known, terminal: str) -> bool:
    assert device.model is not None
    for each in device.model.terminals:
        if isinstance(each, Terminal):
            if each.name == terminal:
                return True
        elif _is_way(terminal, MOST_WAYS if device.ways is None else device.ways):
            return True
    return False


def _is_way(terminal: str, count: int) -> bool:
    """True for `1` to `count`, written without leading zeros."""
    plain = terminal.isascii() and terminal.isdigit() and len(terminal) < 6
    return plain and terminal == str(int(terminal)) and 1 <= int(terminal) <= count


def _only_terminal(reference: Reference, device: Known, scope: Scope) -> TerminalRef | None:
    """The terminal that a device's name alone means."""
    assert device.model is not None
    name = reference.text
    plain = [t for t in device.model.terminals if isinstance(t, Terminal)]
    numbered = any(isinstance(t, Ways) for t in device.model.terminals)
    if not numbered:
        main = [t for t in plain if t.main] or (plain if len(plain) == 1 else [])
        if main:
            return TerminalRef(name, main[0].name)
    example = f"{name}.1" if numbered else f"{name}.{plain[0].name}"
    scope.report(WhichTerminal(reference.span, name, terminals_in_words(device), example))
    return None
