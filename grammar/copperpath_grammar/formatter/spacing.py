"""How the words of one item stand behind each other: where a blank is, and where none."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from lark import Token

from copperpath_grammar.literals import digits_and_unit
from copperpath_grammar.token_mistakes import is_word

NO_BLANK_BEFORE = {"COMMA", "RPAR", "RSQB", "LSQB", "DOT"}
NO_BLANK_AFTER = {"LPAR", "LSQB", "DOT"}
LITERALS = {"NUMBER", "MEASURE", "GAUGE", "CLOCK", "DATE", "MOMENT", "TEXT"}
SIGNS = {"COMMA", "COLON", "EQUAL", "COMPARISON", "DOTS", "ARROW", "LPAR", "LSQB", "DOT"}
OPERATORS = {"PLUS", "_MINUS", "STAR", "SLASH"}
_GAUGE = re.compile(r"([0-9/]+)\s*([A-Za-z]+)|([A-Za-z]+)\s*([0-9/]+)")
_GAUGE_NAME = re.compile(r"(?:AWG|awg)[0-9]+")
_MOMENT = re.compile(r"([0-9-]+)\s+([0-9:]+)\s*(.*)")


def written(token: Token) -> str:
    """A word as it is written: a number and its unit, a date and its time with one blank."""
    if token.type == "MEASURE":
        return " ".join(filter(None, digits_and_unit(token)))
    pattern = {"GAUGE": _GAUGE, "MOMENT": _MOMENT}.get(token.type)
    found = pattern.fullmatch(token) if pattern else None
    return " ".join(filter(None, found.groups())) if found else str(token)


def texts_of(words: Sequence[Token], source: str, *, entry: bool) -> list[str]:
    """Every word as it is written, each with the blank before it where one belongs.

    `entry` says that the first word is the name of an entry, and so no value to subtract from.
    """
    return list(_texts(words, source, entry))


def _texts(words: Sequence[Token], source: str, entry: bool) -> Iterator[str]:
    index = 0  # how deep in `[ ]`
    glued = True
    for place, word in enumerate(words):
        index += (word.type == "LSQB") - (word.type == "RSQB")
        before = words[place - 1] if place else word
        blank = "" if glued or _leans_left(words, place, index, entry) else " "
        if place:
            blank = _kept_apart(words, place, blank, source[before.end_pos : word.start_pos])
        yield blank + written(word)
        glued = word.type in NO_BLANK_AFTER or (word.type == "DOTS" and index > 0)
        glued = glued or (word.type == "_MINUS" and _is_sign(words, place, entry))


def _leans_left(words: Sequence[Token], place: int, index: int, entry: bool) -> bool:
    """True if no blank stands before a word."""
    word = words[place]
    if word.type == "LPAR":  # the parameters of an assembly
        return place == 2 and words[0].type == "ASSEMBLY" and not entry
    return word.type in NO_BLANK_BEFORE or (word.type == "DOTS" and index > 0)


def _is_sign(words: Sequence[Token], place: int, entry: bool) -> bool:
    """True if a minus belongs to the value behind it and takes nothing from one before it."""
    before = words[place - 1]
    if place == 0 or (place == 1 and entry):
        return True
    after_dot = place > 1 and words[place - 2].type == "DOT"
    if before.type == "JOINER":
        return not after_dot
    if before.type == "FOR":
        return not after_dot and place > 1 and words[place - 2].type == "POWERED"
    return before.type in SIGNS | OPERATORS


def _kept_apart(words: Sequence[Token], place: int, blank: str, between: str) -> str:
    """The blank before a word, or what else must be `between` it and the one before.

    Another blank could make another word: `strip.1 . 5` is no number, `AWG14..5` begins with a
    name and `AWG14 .. 5` with a gauge; and a rare blank of print can keep a number and a word
    apart that are a measure with a plain one.
    """
    before, word = words[place - 1], words[place]
    if "DOT" in (before.type, word.type):
        dot = place if word.type == "DOT" else place - 1
        around = [each.type for each in words[dot - 1 : dot + 2]]
        return " " if around == ["NUMBER", "DOT", "NUMBER"] else blank
    if word.type == "DOTS" and before.type == "GAUGE":
        return " "
    if word.type == "DOTS" and _GAUGE_NAME.fullmatch(before):
        return ""
    number = before.type == "NUMBER" and word.type in LITERALS
    number = number or (before.type == "NUMBER" and word.type != "JOINER" and is_word(word))
    gauge = str(before) in ("AWG", "awg") and word.type in ("NUMBER", "MEASURE")
    return between if number or gauge else blank
