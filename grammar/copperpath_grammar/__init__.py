"""The language of station files: text in, syntax nodes and diagnostics out."""

from copperpath_grammar.decoding import LONGEST_TEXT, decode, read_file
from copperpath_grammar.diagnostics import Diagnostic, Label, Level
from copperpath_grammar.nodes import FileNode
from copperpath_grammar.parser import ParseResult, parse
from copperpath_grammar.render_json import as_records
from copperpath_grammar.render_text import render
from copperpath_grammar.source import Source, Span

__all__ = [
    "LONGEST_TEXT",
    "Diagnostic",
    "FileNode",
    "Label",
    "Level",
    "ParseResult",
    "Source",
    "Span",
    "as_records",
    "decode",
    "parse",
    "read_file",
    "render",
]
