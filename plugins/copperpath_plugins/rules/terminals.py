"""Full names of a device's terminals."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import DeviceView, Terminal


def terminals_of(device: DeviceView) -> Iterator[tuple[str, Terminal]]:
    """Each named terminal with its full name; the numbered ways of a block are left out."""
    for terminal in device.model.terminals:
        if isinstance(terminal, Terminal):
            yield f"{device.name}.{terminal.name}", terminal


def giving_at(device: DeviceView, joined: frozenset[str]) -> list[str]:
    """Terminals at which a converter gives, of those that are joined."""
    return [name for name, terminal in terminals_of(device) if terminal.gives and name in joined]
