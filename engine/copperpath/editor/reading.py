"""One text as it stands in the editor, and what is known of it; each view is made when asked for.

Completion needs only the words and the outline, which any text has; the rest needs statements
that can be read.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from lark import Token

from copperpath.build.include import join_files
from copperpath.build.named_values import settle_values
from copperpath.build.scope import Scope
from copperpath.catalogue import Catalogue
from copperpath.editor.outline import Outline, outline_of
from copperpath.editor.shared import declared_in, shared_by
from copperpath.pipeline import Loaded, build_parsed
from copperpath.plugin_api import Model
from copperpath.quantities import Quantity
from copperpath_grammar import LONGEST_TEXT, ParseResult, Source, parse
from copperpath_grammar.lexing import read_tokens
from copperpath_grammar.nodes import FileNode, LetNode
from copperpath_grammar.parser import MOST_TOKENS
from copperpath_grammar.pieces import GAPS


@dataclass(frozen=True)
class Reading:
    """A text with its name, the folder inside which it may name files, and the models at hand."""

    source: Source
    folder: Path | None
    catalogue: Catalogue

    @cached_property
    def tokens(self) -> list[Token]:
        """All words of the text; none of a text that is too long to be a station."""
        text = self.source.text
        return read_tokens(text, MOST_TOKENS) if len(text) <= LONGEST_TEXT else []

    @cached_property
    def outline(self) -> Outline:
        """What the text and the files that it includes declare, as far as it can be told."""
        own = outline_of(self.tokens, self.source)
        others = [each for source in self.shared for each in declared_in(source)]
        return Outline((*own.declared, *others))

    @cached_property
    def shared(self) -> tuple[Source, ...]:
        """The texts that this one includes, as they are on the disk."""
        lines = []
        for index, token in enumerate(self.tokens[:-1]):
            if token.type == "INCLUDE" and (not index or self.tokens[index - 1].type in GAPS):
                first = token.start_pos or 0
                lines.append(self.source.text[first:].partition("\n")[0])
        return shared_by(tuple(lines), self.source.name, self.folder) if lines else ()

    @cached_property
    def whole(self) -> FileNode | None:
        """All statements that can be read, those of included files among them."""
        parsed = self.parsed
        if parsed.file is None:
            return None
        return join_files(parsed.file, parsed.source, self.folder, Scope()).file

    @cached_property
    def parsed(self) -> ParseResult:
        """The statements that can be read, and what the parser complains about."""
        return parse(self.source.text, self.source.name)

    @cached_property
    def loaded(self) -> Loaded:
        """The station, or what is wrong with the text."""
        return build_parsed(self.parsed, self.catalogue, self.folder)

    @cached_property
    def values(self) -> Mapping[str, Quantity | None]:
        """The named values of the file itself; None where one cannot be worked out.

        Read from their own lines alone, as the rest of the text may be out of order or long.
        """
        lines = [each.header for each in self.outline.inside("") if each.word == "let"]
        file = parse("\n".join(lines)).file
        if file is None:
            return {}
        lets = [each for each in file.statements if isinstance(each, LetNode)]
        return settle_values({each.name.text: each for each in reversed(lets)}, Scope())

    @cached_property
    def models(self) -> Mapping[str, type[Model]]:
        """The models that can be used, by name."""
        found = {name: self.catalogue.load(name) for name in self.catalogue.names}
        return {name: each for name, each in found.items() if isinstance(each, type)}

    def model_behind(self, name: str) -> type[Model] | None:
        """The model at the end of a chain of parts that begins with this name."""
        seen: set[str] = set()
        while name not in self.models and name not in seen:
            seen.add(name)
            part = self.outline.part(name)
            if part is None:
                return None
            name = part.of
        return self.models.get(name)


def read(text: str, name: str, folder: Path | None, catalogue: Catalogue) -> Reading:
    """The reading of a text as the editor has it."""
    # As the parser does it: a lone carriage return is a line break.
    plain = re.sub(r"\r(?!\n)", "\n", text.removeprefix("\ufeff"))
    return Reading(Source(name, plain), folder, catalogue)
