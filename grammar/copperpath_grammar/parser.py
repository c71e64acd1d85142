"""From text to syntax nodes: `parse` reads a whole file and never raises.

A good file goes through the grammar in one piece. Only where something is wrong is the file
taken apart (see `recovery`), so that every mistake gets its own message.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from copperpath_grammar.collecting import no_collecting
from copperpath_grammar.decoding import LONGEST_TEXT, FileTooLong
from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.lexing import Stop, parse_tokens, read_tokens
from copperpath_grammar.nodes import FileNode
from copperpath_grammar.source import Source, Span
from copperpath_grammar.syntax_errors import EmptyFile
from copperpath_grammar.token_mistakes import declared_names, find_mistake
from copperpath_grammar.tree_to_nodes import file_node

MOST_TOKENS = 110_000  # words, numbers and signs


@dataclass(frozen=True, slots=True)
class ParseResult:
    """What became of a text.

    Attributes
    ----------
    file : FileNode or None
        All statements and entries that could be read; None if there was nothing to read.
    source : Source
        The text to which all spans refer; without a byte-order mark.
    diagnostics : tuple of Diagnostic
        Every independent mistake, in the order of the text; empty for a good file.
    """

    file: FileNode | None
    source: Source
    diagnostics: tuple[Diagnostic, ...]


def parse(text: str, name: str = "<text>") -> ParseResult:
    """Read a station file.

    Parameters
    ----------
    text : str
        The whole file. Any text is allowed; what cannot be read becomes diagnostics.
    name : str
        The name by which people know the file, for messages.

    Examples
    --------
    >>> result = parse("load lamp : steady { power 3 W }")
    >>> result.file.statements[0].name.text
    'lamp'
    >>> result.diagnostics
    ()
    """
    with no_collecting():
        return _parse(text, name)


def _parse(text: str, name: str) -> ParseResult:
    # A lone carriage return was a line break once; one letter for one keeps all offsets.
    plain = re.sub(r"\r(?!\n)", "\n", text.removeprefix("\ufeff"))
    source = Source(name, plain)
    if len(plain) > LONGEST_TEXT:
        return ParseResult(
            None, source, (FileTooLong(Span(source, 0, 0), len(plain), LONGEST_TEXT),)
        )
    tokens = read_tokens(plain, MOST_TOKENS + 1)
    if len(tokens) > MOST_TOKENS:
        return ParseResult(
            None, source, (FileTooLong(Span(source, 0, 0), 0, MOST_TOKENS, "words"),)
        )
    if all(token.type in ("_NEWLINE", "SEMICOLON") for token in tokens):
        return ParseResult(None, source, (EmptyFile(Span(source, 0, 0)),))
    names = declared_names(tokens)
    if find_mistake(tokens, source, names) is None:
        tree = parse_tokens(tokens, "file")
        if not isinstance(tree, Stop):
            return ParseResult(file_node(tree, source), source, ())
    from copperpath_grammar.recovery import recover  # 10 ms that good files need not pay

    statements, broken, diagnostics = recover(tokens, source, names)
    span = Span(source, 0, len(source.text))
    return ParseResult(FileNode(statements, span, broken), source, diagnostics)
