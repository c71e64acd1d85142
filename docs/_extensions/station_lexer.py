"""Sphinx extension: colours for station texts in the pages."""

from __future__ import annotations

from typing import Any, ClassVar

from pygments.lexer import RegexLexer, words
from pygments.token import Comment, Keyword, Name, Number, Operator, Punctuation, String, Whitespace


class StationLexer(RegexLexer):
    """Just enough to tell words, values and remarks apart; the grammar decides what is right."""

    name = "station"
    aliases: ClassVar[list[str]] = ["station"]
    tokens: ClassVar[dict[str, Any]] = {
        "root": [
            (r"#.*$", Comment.Single),
            (r'"[^"\n]*"', String),
            (
                words(
                    (
                        "station",
                        "part",
                        "source",
                        "converter",
                        "storage",
                        "block",
                        "load",
                        "cable",
                        "let",
                        "require",
                    ),
                    prefix=r"^",
                    suffix=r"\b",
                ),
                Keyword,
            ),
            (r"\d{4}-\d{2}-\d{2}|[+-]?\d{1,2}:\d{2}", Number),
            (r"-?\d[\d.]*(?:e[+-]?\d+)?(?: ?(?:%|°|µ|Ω|[A-Za-z])[\w²/%°Ω]*)?", Number),
            (r"->|\.\.|<=|>=|[<>*+/-]", Operator),
            (r"[{}();:,.]", Punctuation),
            (r"\w+", Name),
            (r"\s+", Whitespace),
            (r".", Punctuation),
        ]
    }


def setup(app: Any) -> dict[str, bool]:
    """Make ```station blocks known."""
    app.add_lexer("station", StationLexer)
    return {"parallel_read_safe": True}
