"""Tokens and expectations in plain words."""

from __future__ import annotations

from lark import Token

_FOUND = {
    "NUMBER": "the number `{}`",
    "MEASURE": "the value `{}`",
    "GAUGE": "the value `{}`",
    "CLOCK": "the time `{}`",
    "DATE": "the date `{}`",
    "MOMENT": "the time `{}`",
    "TEXT": "the text `{}`",
    "JOINER": "the word `{}`",
    "NAME": "the word `{}`",
    "KIND": "the word `{}`",
}
_LONGEST_QUOTE = 30

# Terminals that would fit, from the most to the least helpful; the first three are told.
_EXPECTED = (
    (("STRING_ONLY",), "text in double quotes"),
    (("LBRACE",), "`{`"),
    (("COLON",), "`:`"),
    (("EQUAL",), "`=`"),
    (("ARROW",), "`->`"),
    (("POWERED",), "`powered throughout`"),
    (("COMPARISON",), "a comparison such as `>= 20 %`"),
    (("THROUGHOUT",), "`throughout`"),
    (("FOR",), "`for` and a time"),
    (("VALUE",), "a value such as `5 A`"),
    (("WORD",), "a name"),
    (("RPAR",), "`)`"),
    (("RSQB",), "`]`"),
    (("TOGETHER",), "`together`"),
    (("COMMA_OR_WORD",), "a comma or a word such as `at`"),
    (("COMMA",), "a comma"),
    (("WHICH_CASES",), '`every case`, or `case` and its title such as `"overcast"`'),
    (("JOINER",), "`to`"),
    (("CASE",), "`case`"),
    (("STAR", "PLUS", "SLASH"), "a sign such as `+`"),
    (("$END",), "the end of the line"),
)


def in_words(token: Token | None) -> str:
    """A token as messages call it: the number `5`, the word `rig`, `{`."""
    if token is None:
        return "the end of the line"
    return _FOUND.get(token.type, "the word `{}`" if token.isidentifier() else "`{}`").format(
        shortened(str(token))
    )


def shortened(text: str) -> str:
    """A text short enough to stand in a sentence, on one line."""
    plain = " ".join(text.split())
    return plain if len(plain) <= _LONGEST_QUOTE else plain[: _LONGEST_QUOTE - 3] + "..."


def expected_in_words(expected: frozenset[str]) -> tuple[str, ...]:
    """At most three things that would fit, in words."""
    kinds = set(expected)
    if "MEASURE" in kinds:
        kinds |= {"VALUE"}
        kinds -= {"TOGETHER", "CASE", "NAME", "POWERED", "FOR", "THROUGHOUT"}
    elif "NAME" in kinds:
        kinds |= {"WORD"}
        kinds -= {"TOGETHER", "CASE", "POWERED", "FOR", "THROUGHOUT"}
    elif "TEXT" in kinds:
        kinds |= {"STRING_ONLY"}
    if {"JOINER", "CASE"} <= kinds:
        kinds = kinds - {"JOINER", "CASE"} | {"WHICH_CASES"}
    if {"COMMA", "JOINER"} <= kinds:
        kinds = kinds - {"COMMA", "JOINER"} | {"COMMA_OR_WORD"}
    if "POWERED" in kinds:
        kinds -= {"$END"}  # a verdict alone is hardly what was meant
    found = [words for terminals, words in _EXPECTED if kinds & set(terminals)]
    return tuple(found[:3]) or ("the end of the line",)
