"""One way to lay out a station file: the same words and remarks, in columns that can be read."""

from copperpath_grammar.formatter.format_text import Formatted, format_text

__all__ = ["Formatted", "format_text"]
