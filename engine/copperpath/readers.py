"""The installed readers of weather files, found by entry point.

Not here: the models of devices; see `copperpath.catalogue`. A reader that cannot be loaded reads
nothing, and says so.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.metadata import entry_points

from copperpath.plugin_api import Reader

GROUP = "copperpath.readers"
VERSION = 1
HEAD = 4000
"""So many characters of a file are shown to a reader that is asked whether it knows it."""


@lru_cache(maxsize=1)
def installed_readers() -> tuple[type[Reader], ...]:
    """All readers that can be loaded, by name."""
    found = []
    for point in sorted(entry_points(group=GROUP), key=lambda each: each.name):
        try:
            reader: object = point.load()
        except Exception:  # whatever a stranger's module does while it is imported
            continue
        fits = isinstance(reader, type) and issubclass(reader, Reader)
        if fits and isinstance(reader, type) and getattr(reader, "interface", 0) == VERSION:
            found.append(reader)
    return tuple(found)


def reader_for(name: str, text: str) -> type[Reader] | None:
    """The reader that a file is meant for; None if there is none."""
    head = text[:HEAD]
    for reader in installed_readers():
        try:
            if reader.recognizes(name, head):
                return reader
        except Exception:  # whatever a stranger's reader does with a text
            continue
    return None
