"""The open texts: each is read once a version; its mistakes are told for each file they are in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from copperpath.catalogue import Catalogue
from copperpath.editor.mistakes import Mistake, mistakes_in, syntax_mistakes_in
from copperpath.editor.reading import Reading, read

Publish = Callable[[str, list[Mistake]], None]
"""Told the name of a file and all mistakes that are known of it."""


@dataclass(slots=True)
class Desk:
    """All that is open. Files are known by their names: paths, or addresses of unsaved texts."""

    catalogue: Catalogue
    readings: dict[str, Reading] = field(default_factory=dict)
    told: dict[str, dict[str, list[Mistake]]] = field(default_factory=dict)
    """By the open text from which they come, then by the file they are in."""

    def put(self, name: str, text: str, folder: Path | None) -> Reading:
        """A text as it now stands."""
        reading = read(text, name, folder, self.catalogue)
        known = self.readings.get(name)
        if known is not None and known.source == reading.source and known.folder == folder:
            return known
        self.readings[name] = reading
        return reading

    def refresh(self, name: str) -> None:
        """Forget what was worked out of a text: a file that it names may have changed."""
        old = self.readings.get(name)
        if old is not None:
            self.readings[name] = Reading(old.source, old.folder, old.catalogue)

    def check(self, name: str, publish: Publish) -> None:
        """Tell the mistakes of an open text, and that others are gone."""
        reading = self.readings.get(name)
        if reading is None:
            return
        if self._is_included(name):
            self._check_alone(name, publish)
        else:
            self._tell(name, mistakes_in(reading), publish)
        for source in reading.shared:
            if source.name in self.readings and source.name != name:
                self._check_alone(source.name, publish)

    def close(self, name: str, publish: Publish) -> None:
        """Take a text off the desk, with what was told because of it."""
        reading = self.readings.pop(name, None)
        self._tell(name, {name: []}, publish)
        self.told.pop(name, None)
        for source in reading.shared if reading is not None else ():
            self.check(source.name, publish)  # if it is open it stands for itself again

    def _check_alone(self, name: str, publish: Publish) -> None:
        """Tell only what cannot be read: alone the text is no whole station, and the one that
        includes it says what it means there."""
        self._tell(name, {name: syntax_mistakes_in(self.readings[name])}, publish)

    def _is_included(self, name: str) -> bool:
        """Whether another open text includes this one."""
        return any(
            source.name == name
            for other, reading in self.readings.items()
            for source in reading.shared
            if other != name
        )

    def _tell(self, name: str, found: dict[str, list[Mistake]], publish: Publish) -> None:
        before = self.told.get(name, {})
        self.told[name] = found
        for file in dict.fromkeys((*found, *before)):
            publish(file, self._all_of(file))

    def _all_of(self, file: str) -> list[Mistake]:
        """What is known of a file from all open texts, each mistake once."""
        every = [mistake for found in self.told.values() for mistake in found.get(file, [])]
        return list(dict.fromkeys(every))
