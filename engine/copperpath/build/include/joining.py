"""The main file with all that it includes, as one list of statements.

Every file is read once, however often it is named. Mistakes in an included file are shown with its
own name and line.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from copperpath.build.include.include_errors import (
    BrokenLibrary,
    CannotInclude,
    IncludeCycle,
    NotInThisFile,
    UnknownLibrary,
)
from copperpath.build.include.libraries import file_of, libraries, package_of
from copperpath.build.include.paths import IncludeTrouble, read_text, safe_path
from copperpath.build.include.wanted import Held, wanted_of
from copperpath.build.scope import Scope
from copperpath_grammar import LONGEST_TEXT, parse
from copperpath_grammar.nodes import (
    AssemblyNode,
    CaseNode,
    FileNode,
    IncludeNode,
    LetNode,
    PartNode,
    Statement,
    StationNode,
)
from copperpath_grammar.source import Source
from copperpath_grammar.value_nodes import Name

DEEPEST = 20
"""Files that include each other in a row."""

MOST_FILES = 100


@dataclass(frozen=True, slots=True)
class Joined:
    """All statements, and the texts they come from: the main file first, then the others as they
    were first included."""

    file: FileNode
    sources: tuple[Source, ...]


def join_files(file: FileNode, source: Source, folder: Path | None, scope: Scope) -> Joined:
    """Read all that a file includes; mistakes are reported to `scope`.

    Parameters
    ----------
    folder : Path or None
        Folder of the main file, in which included files lie; None if it has none.
    """
    if not any(isinstance(statement, IncludeNode) for statement in file.statements):
        return Joined(file, (source,))
    joiner = _Joiner(source, folder, scope)
    joiner.broken += file.broken
    joiner.take(file, source, folder, ())
    held = wanted_of(joiner.held, joiner.statements)
    whole = FileNode((*joiner.statements, *held), file.span, tuple(joiner.broken))
    return Joined(whole, tuple(joiner.sources))


class _Joiner:
    """Reads file after file; the lists grow in the order of the text."""

    def __init__(self, source: Source, folder: Path | None, scope: Scope) -> None:
        self.scope = scope
        self.home = folder.resolve() if folder is not None else None
        self.sources = [source]
        self.statements: list[Statement] = []
        self.held: list[Held] = []
        self.broken: list[Name] = []
        self.letters = len(source.text)
        self.main = None if self.home is None else self.home / Path(source.name).name
        self.lines = 0
        self.seen: set[Path] = set() if self.main is None else {self.main}

    def take(
        self, file: FileNode, source: Source, folder: Path | None, above: tuple[Path, ...]
    ) -> None:
        """The statements of the main file or one that it includes; `above` leads to it."""
        for statement in file.statements:
            if isinstance(statement, IncludeNode):
                self.lines += 1
                if self.lines > MOST_FILES:
                    self._too_many(statement)
                elif statement.library:
                    self._library(statement)
                else:
                    self._file(statement, source, folder, above)
            elif above and isinstance(statement, StationNode | CaseNode):
                self._refuse(statement, library=False)
            else:
                self.statements.append(statement)

    def _file(
        self, node: IncludeNode, source: Source, folder: Path | None, above: tuple[Path, ...]
    ) -> None:
        written = node.path.value
        try:
            if folder is None or self.home is None:
                raise IncludeTrouble(
                    "this station did not come from a file, so there is no folder to look in",
                    "save the station to a file beside it",
                )
            path = safe_path(written, folder, self.home)
            line = (*((self.main,) if self.main is not None else ()), *above)
            if path in line:
                names = tuple(each.name for each in line[line.index(path) :])
                self.scope.report(IncludeCycle(node.path.span, names))
                return
            if path in self.seen:
                return
            self.seen.add(path)
            if len(above) >= DEEPEST:
                raise IncludeTrouble(f"files include each other more than {DEEPEST} deep")
            name = os.path.normpath(os.path.join(os.path.dirname(source.name), written))
            parsed, text = self._read(path, name)
        except IncludeTrouble as trouble:
            self._lost(node)
            advice = trouble.advice
            if written in libraries():
                advice = f'for the library that comes along write `include library "{written}"`'
            self.scope.report(CannotInclude(node.path.span, written, trouble.reason, advice))
            return
        if parsed is not None:
            self.broken += parsed.broken
            self.take(parsed, text, path.parent, (*above, path))

    def _library(self, node: IncludeNode) -> None:
        name = node.path.value
        points = libraries().get(name)
        if points is None:
            self._lost(node)
            near = self.scope.near(name, libraries())
            others = [each for each in libraries() if each != near]
            known = (near, *others) if near else tuple(others)
            self.scope.report(UnknownLibrary(node.path.span, name, near, known))
            return
        try:
            path = file_of(points)
            if path in self.seen:
                return
            self.seen.add(path)
            parsed, _ = self._read(path, f"library {name}")
        except IncludeTrouble as trouble:
            self._lost(node)
            package = package_of(points[0])
            self.scope.report(BrokenLibrary(node.path.span, name, package, trouble.reason))
            return
        if parsed is None:
            return
        self.broken += parsed.broken
        for statement in parsed.statements:
            if isinstance(statement, LetNode | PartNode | AssemblyNode):
                self.held.append(statement)
            else:
                self._refuse(statement, library=True)

    def _read(self, path: Path, name: str) -> tuple[FileNode | None, Source]:
        """What a further file says, and its text; mistakes of the language are reported."""
        text = read_text(path, name)
        self.letters += len(text)
        if self.letters > LONGEST_TEXT:
            reason = f"with it the station's files are longer than {LONGEST_TEXT:,} characters"
            raise IncludeTrouble(reason, "leave out what the station does not use")
        parsed = parse(text, name)
        self.sources.append(parsed.source)
        for problem in parsed.diagnostics:
            self.scope.report(problem)
        return parsed.file, parsed.source

    def _too_many(self, node: IncludeNode) -> None:
        """Said once, at the first line that is one too many; the others are not looked at."""
        self._lost(node)
        if self.lines == MOST_FILES + 1:
            path, reason = node.path, f"there are more than {MOST_FILES} `include` lines"
            self.scope.report(CannotInclude(path.span, path.value, reason, "join some files"))

    def _lost(self, node: IncludeNode) -> None:
        """Whatever name is unknown may have stood in a file that could not be read."""
        self.broken.append(Name("", node.path.span))

    def _refuse(self, statement: Statement, *, library: bool) -> None:
        what = "the `station` block" if isinstance(statement, StationNode) else "this line"
        what = "a case" if isinstance(statement, CaseNode) else what
        head = statement.title if isinstance(statement, StationNode | CaseNode) else statement
        self.scope.report(NotInThisFile(head.span, what, library))
