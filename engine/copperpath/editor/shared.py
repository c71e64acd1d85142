"""The further files that a text includes, read without the rest of the text being in order.

They are read from the disk, once for the same `include` lines; `forget` makes them be read again.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from copperpath.build.include import join_files
from copperpath.build.include.libraries import file_of, libraries
from copperpath.build.include.paths import IncludeTrouble
from copperpath.build.scope import Scope
from copperpath.editor.outline import Declared, outline_of
from copperpath_grammar import Source, parse
from copperpath_grammar.lexing import read_tokens

LIBRARY = "library "
"""So begins the name that messages have for the text of a library."""


@lru_cache(maxsize=8)
def shared_by(lines: tuple[str, ...], name: str, folder: Path | None) -> tuple[Source, ...]:
    """The texts that these `include` lines of a file bring, directly or through others."""
    parsed = parse("\n".join(lines), name)
    if parsed.file is None:
        return ()
    return join_files(parsed.file, parsed.source, folder, Scope()).sources[1:]


@lru_cache(maxsize=32)
def declared_in(source: Source) -> tuple[Declared, ...]:
    """What a further file declares."""
    return outline_of(read_tokens(source.text), source).declared


def forget() -> None:
    """Read everything again when it is next asked for."""
    shared_by.cache_clear()
    declared_in.cache_clear()


def path_of(name: str) -> Path | None:
    """Where a text lies, by its name in messages; None if it is no file."""
    if not name.startswith(LIBRARY):
        return Path(name) if Path(name).is_absolute() else None
    points = libraries().get(name.removeprefix(LIBRARY))
    try:
        return file_of(points) if points else None
    except IncludeTrouble:
        return None
