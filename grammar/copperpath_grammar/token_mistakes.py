"""Mistakes that show in the words themselves, wherever they stand: `0,5 A`, `25:00`, `'text'`.

Looked for before parsing, so that later steps may take every literal to be possible.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Sequence
from datetime import date
from itertools import pairwise

from lark import Token

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.entry_errors import TooDeep
from copperpath_grammar.lexing import span_of
from copperpath_grammar.literals import number_and_unit
from copperpath_grammar.source import Source, Span
from copperpath_grammar.value_errors import (
    BadClock,
    BadDate,
    BadOffset,
    BadWay,
    BareDot,
    DateOrder,
    DecimalComma,
    LetterInMoment,
    Lookalike,
    OddCharacter,
    SlashComment,
    ThousandsComma,
    UnbelievableNumber,
    UnclosedText,
    UnitWithoutNumber,
    WrongQuotes,
)

_LONGEST_COMMA_RUN = 12  # tokens; no number has more groups of three digits
MOST_OPERATORS = 100  # signs and parentheses in one entry; bounds the depth of every tree
LARGEST, SMALLEST, MOST_DIGITS = 1e30, 1e-30, 40
FARTHEST_OFFSET = 14 * 60  # minutes; no place on Earth is further from UTC

_OPERATORS = frozenset(("LPAR", "PLUS", "_MINUS", "STAR", "SLASH"))
_BREAKS = frozenset(("_NEWLINE", "SEMICOLON", "LBRACE", "RBRACE"))
_DASHES = "-−–—‐‑‒―"

Check = Callable[[Sequence[Token], int, Source], Diagnostic | None]


def find_mistake(
    tokens: Sequence[Token], source: Source, names: frozenset[str]
) -> Diagnostic | None:
    """The first mistake that shows in the words themselves, or None.

    `names` are those that the file declares; a unit may be one of them.
    """
    operators = 0
    for index, token in enumerate(tokens):
        if token.type in _BREAKS:
            operators = 0
        elif token.type in _OPERATORS:
            operators += 1
            if operators > MOST_OPERATORS:
                return TooDeep(span_of(source, token), MOST_OPERATORS)
        check = _CHECKS.get(token.type)
        found = check(tokens, index, source) if check else None
        if found is None and token in _UNITS and token not in names:
            found = _lone_unit(tokens, index, source)
        if found is not None:
            return found
    return None


def declared_names(tokens: Sequence[Token]) -> frozenset[str]:
    """Names that follow a word which declares them."""
    declaring = ("KIND", "PART", "LET", "KIT", "ASSEMBLY")
    return frozenset(
        str(token)
        for before, token in pairwise(tokens)
        if before.type in declaring and token.type == "NAME"
    )


def touches(tokens: Sequence[Token], index: int) -> bool:
    """Whether the token at `index` follows the one before it without a blank."""
    if not 0 < index < len(tokens):
        return False
    return tokens[index - 1].end_pos == tokens[index].start_pos


def is_word(token: Token) -> bool:
    """Whether a token could be a name or part of a dotted one."""
    return token[:1].isidentifier()


def _has_inside(token: Token) -> bool:
    """Whether a dot behind a token reaches inside a thing: `strip.1`, `table[2].1`."""
    return is_word(token) or token.type == "RSQB"


# ---- numbers --------------------------------------------------------------------------------


def _number(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    token = tokens[index]
    after_dot = touches(tokens, index) and tokens[index - 1].type == "DOT"
    if after_dot and not (touches(tokens, index - 1) and _has_inside(tokens[index - 2])):
        if index > 1 and tokens[index - 2].type == "NUMBER" and touches(tokens, index - 1):
            return None  # `strip.1.5`, seen at the `1`
        return BareDot(span_of(source, tokens[index - 1], token), f".{token}", f"0.{token}")
    if after_dot and token.type == "NUMBER":
        whole = re.fullmatch(r"[0-9]{1,4}", token)
        return None if whole else BadWay(span_of(source, token), str(token))
    return (
        _date_order(token, source)
        or _comma(tokens, index, source)
        or _size(token, source)
        or _dot_behind(tokens, index, source)
    )


def _date_order(token: Token, source: Source) -> Diagnostic | None:
    match = re.compile(
        r"(?:([0-9]{1,2})[./]([0-9]{1,2})[./]([0-9]{4})|([0-9]{4})[./]([0-9]{1,2})[./]([0-9]{1,2}))(?![\w.])"
    ).match(source.text, token.start_pos or 0)
    if not match:
        return None
    if match[4]:
        better = f"{match[4]}-{int(match[5]):02}-{int(match[6]):02}"
    elif int(match[2]) > 12:
        better = f"{match[3]}-{int(match[1]):02}-{int(match[2]):02}"
    else:
        better = f"{match[3]}-{int(match[2]):02}-{int(match[1]):02}"
    return DateOrder(Span(source, match.start(), match.end()), match[0], better)


def _comma(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    """`0,5 A` and `12,000 W`; a comma in a list has a blank after it."""
    last = index
    while (
        last - index < _LONGEST_COMMA_RUN
        and tokens[last].type == "NUMBER"
        and last + 2 < len(tokens)
        and tokens[last + 1].type == "COMMA"
        and tokens[last + 2].type in ("NUMBER", "MEASURE")
        and touches(tokens, last + 1)
        and touches(tokens, last + 2)
    ):
        last += 2
    if last == index:
        return None
    span = span_of(source, tokens[index], tokens[last])
    text, commas = span.text, (last - index) // 2
    if re.match(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9])", text):
        decimal = text.replace(",", ".") if commas == 1 and "." not in text else ""
        return ThousandsComma(span, text, text.replace(",", ""), decimal)
    if commas == 1 and "." not in text:
        return DecimalComma(span, text, text.replace(",", "."))
    return None


def _size(token: Token, source: Source) -> Diagnostic | None:
    span = span_of(source, token)
    match = re.match(r"[0-9.]+(?:[eE][-+]?[0-9]+)?", token)
    digits = match[0] if match else ""
    if len(digits) > MOST_DIGITS:
        return UnbelievableNumber(span, f"has more than {MOST_DIGITS} digits")
    value, _ = number_and_unit(str(token))
    if value > LARGEST:
        return UnbelievableNumber(span, "is too large to be real")
    if 0.0 < value < SMALLEST or (value == 0.0 and re.search(r"[1-9].*[eE]", digits)):
        return UnbelievableNumber(span, "is too small to be real")
    return None


def _dot_behind(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    if not touches(tokens, index + 1) or tokens[index + 1].type != "DOT":
        return None
    token = tokens[index]
    if token.type != "NUMBER":
        return None
    return BareDot(span_of(source, token, tokens[index + 1]), f"{token}.", str(token))


# Units that nobody takes for a word; single letters such as A or m may name a choice.
_ELECTRICAL = ("W", "kW", "mW", "V", "mV", "kV", "mA", "Ah", "mAh", "Wh", "kWh", "ohm", "kohm")
_UNITS = frozenset((*_ELECTRICAL, "Hz", "mm", "mm2", "mm²", "cm", "kg", "AWG", "degC", "degF"))


def _lone_unit(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    """`power W`: a unit that stands where a value belongs."""
    before = tokens[index - 1] if index else None
    if before is None or tokens[index].type != "NAME":
        return None
    follows_name = is_word(before) and before.type == "NAME" and _begins_line(tokens, index - 1)
    if not follows_name and before.type not in ("COMMA", "JOINER", "DOTS", "COMPARISON"):
        return None
    after = tokens[index + 1].type if index + 1 < len(tokens) else "_NEWLINE"
    if after not in _BREAKS | {"COMMA", "JOINER", "DOTS"}:
        return None
    return UnitWithoutNumber(span_of(source, tokens[index]), str(tokens[index]))


def _begins_line(tokens: Sequence[Token], index: int) -> bool:
    return index == 0 or tokens[index - 1].type in _BREAKS


# ---- times ----------------------------------------------------------------------------------


def _clock(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    return _bad_clock(str(tokens[index]), span_of(source, tokens[index]), last_hour=24)


def _bad_clock(text: str, span: Span, *, last_hour: int) -> Diagnostic | None:
    hours, minutes, *seconds = text.split(":")
    if seconds:
        return BadClock(span, text, "it has seconds", f"{hours[-2:]:0>2}:{minutes[:2]:0>2}")
    if len(hours) > 2 or int(hours) > 24:
        return BadClock(span, text, "a day has 24 hours", "")
    if len(minutes) != 2:
        minute = minutes[:5].rjust(2, "0") if len(minutes) == 1 else ""
        better = f"{int(hours):02}:{minute}" if minute else ""
        return BadClock(span, text, "minutes have two digits", better)
    if int(minutes) > 59:
        return BadClock(span, text, "an hour has 60 minutes", "")
    if int(hours) == 24 and (int(minutes) > 0 or last_hour < 24):
        return BadClock(span, text, "after 24:00 the next day begins", f"00:{minutes}")
    return None


def _date(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    token = tokens[index]
    match = re.compile(r"[Tt]([0-9]{1,2}:[0-9]{2})(?::[0-9.]+)?([-+−][0-9]{2}:?[0-9]{2}|Z)?").match(
        source.text, token.end_pos or 0
    )
    if match:
        span = Span(source, token.start_pos or 0, match.end())
        offset = (match[2] or "").replace("Z", "+00:00")
        return LetterInMoment(span, span.text, f"{token} {match[1]} {offset}".rstrip())
    return _bad_date(str(token), span_of(source, token))


def _bad_date(text: str, span: Span) -> Diagnostic | None:
    year, month, day = (int(part) for part in text.split("-"))
    if not 1 <= month <= 12:
        return BadDate(span, text, "a year has months 01 to 12")
    if not 1900 <= year <= 2200:
        return BadDate(span, text, "only the years 1900 to 2200 are known here")
    try:
        date(year, month, day)
    except ValueError:
        return BadDate(span, text, "that month has no such day")
    return None


def _moment(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    token = tokens[index]
    match = re.match(r"(\S+?)([ \t\xa0]+)([0-9]+:[0-9]+(?::[0-9]+)?)[ \t\xa0]*(.*)", token)
    assert match
    start = token.start_pos or 0
    found = _bad_date(match[1], Span(source, start, start + match.end(1)))
    if found is None:
        clock = Span(source, start + match.start(3), start + match.end(3))
        found = _bad_clock(match[3], clock, last_hour=23)
    if found is None and match[4]:
        found = _bad_offset(match[4], Span(source, start + match.start(4), start + match.end(4)))
    if found is None and not match[4] and index + 1 < len(tokens):
        zone = tokens[index + 1]
        if str(zone).upper() in ("Z", "UTC", "GMT", "UT"):
            return BadOffset(span_of(source, zone), str(zone))
    return found


def _bad_offset(text: str, span: Span) -> Diagnostic | None:
    hours, minutes = text[1:].split(":")
    fits = len(hours) == 2 and len(minutes) == 2
    if fits and int(minutes) < 60 and 60 * int(hours) + int(minutes) <= FARTHEST_OFFSET:
        return None
    return BadOffset(span, text)


# ---- texts and characters -------------------------------------------------------------------

_LOOKALIKES = {
    "≥": "`>=`",
    "≤": "`<=`",
    "→": "`->`",
    "⇒": "`->`",
    "…": "`..`",
    "–": "`..` for a range, `-` for a minus",
    "—": "`..` for a range, `-` for a minus",
    "‐": "`-`",
    "‑": "`-`",
    "×": "`*`",
    "·": "`*`",
    "÷": "`/`",
    "：": "`:`",
    "；": "`;`",
    "，": "`,`",
    "（": "`(`",
    "）": "`)`",
    "［": "`[`",
    "］": "`]`",
    "½": "`0.5`",
    "¼": "`0.25`",
    "¾": "`0.75`",
}
_UNIT_SIGNS = "%‰°"


def _odd(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    token = tokens[index]
    letter, span = str(token), span_of(source, token)
    if letter in _DASHES and tokens[0].type == "CABLE":
        return None  # an arrow was meant; the hints for cables say it better
    if letter in _UNIT_SIGNS:
        end = token.end_pos or 0
        unit = re.compile(r"°[CFK]?|%(?:/\w{1,4}\b)?|‰").match(source.text, end - 1)
        assert unit
        return UnitWithoutNumber(Span(source, end - 1, unit.end()), unit[0])
    if letter in _LOOKALIKES:
        return Lookalike(span, letter, _LOOKALIKES[letter])
    name = unicodedata.name(letter, "").lower()
    if not letter.isprintable() or unicodedata.combining(letter):
        code = f"U+{ord(letter):04X}"
        return OddCharacter(span, code, name or "a control character that cannot be seen")
    return OddCharacter(span, f"`{letter}`", "" if letter.isascii() else name)


def _open_text(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    start = tokens[index].start_pos or 0
    return UnclosedText(Span(source, start, start + 1))


def _quoted(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    return WrongQuotes(span_of(source, tokens[index]), str(tokens[index]))


def _slashes(tokens: Sequence[Token], index: int, source: Source) -> Diagnostic | None:
    start = tokens[index].start_pos or 0
    return SlashComment(Span(source, start, start + 2))


_CHECKS: dict[str, Check] = {
    "NUMBER": _number,
    "MEASURE": _number,
    "CLOCK": _clock,
    "DATE": _date,
    "MOMENT": _moment,
    "ODD": _odd,
    "OPEN_TEXT": _open_text,
    "QUOTED": _quoted,
    "SLASHES": _slashes,
}
