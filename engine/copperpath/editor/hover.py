"""What the word under the pointer is: an entry, a model, a device with its values ..."""

from __future__ import annotations

from dataclasses import dataclass

from lark import Token

from copperpath.editor.complete_entries import forms_in
from copperpath.editor.complete_statements import SEPARATORS, path_before
from copperpath.editor.cursor import Cursor, cursor_at, token_at
from copperpath.editor.device_words import assembly_in_words, device_in_words, part_in_words
from copperpath.editor.names_in_reach import behind_dot, model_help, value_in_words
from copperpath.editor.occurrences import occurrence_at
from copperpath.editor.reading import Reading
from copperpath.editor.symbols import Symbol
from copperpath_grammar.source import Span
from copperpath_grammar.statement_words import EXAMPLES


@dataclass(frozen=True, slots=True)
class Hover:
    """A text (Markdown) about a span."""

    span: Span
    text: str


def hover(reading: Reading, offset: int) -> Hover | None:
    """What can be said about the word at an offset."""
    token = token_at(reading, offset)
    if token is None:
        return None
    span = Span(reading.source, token.start_pos or 0, token.end_pos or 0)
    named = occurrence_at(reading, span.start) if token[:1].isidentifier() else None
    text = _about(reading, named.symbol) if named is not None and named.span == span else ""
    if not text:
        text = _about_word(reading, cursor_at(reading, span.end), token)
    return Hover(span, text) if text else None


def _about(reading: Reading, symbol: Symbol) -> str:
    """What a name of the file stands for."""
    match symbol.space:
        case "device":
            return device_in_words(reading, symbol.name, symbol.owner)
        case "part":
            return part_in_words(reading, symbol.name)
        case "assembly":
            return assembly_in_words(reading, symbol.name)
        case "value":
            return _value_in_words(reading, symbol)
    return ""


def _value_in_words(reading: Reading, symbol: Symbol) -> str:
    lets = [
        each
        for each in reading.outline.inside(symbol.owner)
        if each.word == "let" and each.name == symbol.name
    ]
    if not lets:
        return f"**{symbol.name}**: a value that each kit of `{symbol.owner}` gives"
    value = reading.values.get(symbol.name) if symbol.owner == "" else None
    result = f"{value_in_words(value)}\n\n" if value is not None else ""
    return f"**{symbol.name}**: {result}`{lets[0].header}`"


def _about_word(reading: Reading, cursor: Cursor, token: Token) -> str:
    """What a word of the language or of a model means where it stands."""
    if cursor.silent or cursor.quoted:
        return ""
    line, word = cursor.line, str(token)
    if line and line[-1].type == "COLON" and word in reading.models:
        return model_help(reading.models[word])
    if line and line[-1].type == "DOT":
        wanted = "quantity" if line[0].type == "REQUIRE" else "terminal"
        found = behind_dot(reading, path_before(line), cursor.owner, wanted)
        words = [each for each in found if each.label == word]
        return f"**{word}**: {words[0].help or words[0].detail}" if words else ""
    if line and line[-1].type in SEPARATORS:
        return device_in_words(reading, word, cursor.owner)  # in a line that cannot be read yet
    frame = cursor.frame
    if frame is not None and frame.word not in ("assembly",):
        forms = forms_in(reading, frame, cursor.owner)
        name = str(line[0]) if line else word
        if name in forms:
            return forms[name].help
    if not line and word in EXAMPLES:
        return f"**{word}**\n\n```station\n{EXAMPLES[word]}\n```"
    return ""
