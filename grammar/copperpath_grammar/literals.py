"""From the words that stand for values to nodes: numbers, units, times, dates, texts.

`token_mistakes` checks them first; here a literal is known to be possible.
"""

from __future__ import annotations

import re

from lark import Token

from copperpath_grammar.source import Source, Span
from copperpath_grammar.value_nodes import Clock, Date, Measure, Moment, Number, Text

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?")
_DATE = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})")
_OFFSET = re.compile(r"([-+−])([0-9]{1,2}):([0-9]{2})\Z")

Literal = Clock | Date | Measure | Moment | Number | Text


def literal_node(token: Token, source: Source) -> Literal:
    """The node of a token that stands for a value."""
    span = Span(source, token.start_pos or 0, token.end_pos or 0)
    text = str(token)
    match token.type:
        case "NUMBER":
            return Number(float(text), span)
        case "MEASURE":
            return Measure(*number_and_unit(text), span)
        case "GAUGE":
            return Measure(gauge(text), "AWG", span)
        case "CLOCK":
            return _clock(text, 0, span)
        case "DATE":
            return _date(text, span)
        case "MOMENT":
            return _moment(text, span)
        case "TEXT":
            return Text(text[1:-1].replace('""', '"'), span)
    raise AssertionError(f"no literal is called {token.type}")


def number_and_unit(text: str) -> tuple[float, str]:
    """Split `5 m` into 5.0 and `m`."""
    digits, unit = digits_and_unit(text)
    return float(digits), unit


def digits_and_unit(text: str) -> tuple[str, str]:
    """Split `5.0 m` into `5.0` and `m`, both as written."""
    match = _NUMBER.match(text)
    assert match
    return match[0], text[match.end() :].strip()


def gauge(text: str) -> float:
    """Number of an American gauge; `2/0 AWG` counts on below 0 as -1, `4/0 AWG` as -3."""
    digits = text.lower().replace("awg", "").strip()
    if digits.endswith("/0"):
        return 1.0 - float(digits[:-2])
    return float(digits)


def _clock(text: str, offset: int, span: Span) -> Clock:
    match = _CLOCK.match(text, offset)
    assert match
    start = span.start + match.start()
    return Clock(int(match[1]), int(match[2]), Span(span.source, start, span.start + match.end()))


def _date(text: str, span: Span) -> Date:
    match = _DATE.match(text)
    assert match
    year, month, day = (int(part) for part in match.groups())
    return Date(year, month, day, Span(span.source, span.start, span.start + match.end()))


def _moment(text: str, span: Span) -> Moment:
    date = _date(text, span)
    after = date.span.end - span.start
    clock = _clock(text, after + len(text[after:]) - len(text[after:].lstrip()), span)
    offset = _OFFSET.search(text)
    if not offset:
        return Moment(date, clock, None, span)
    minutes = 60 * int(offset[2]) + int(offset[3])
    return Moment(date, clock, minutes if offset[1] == "+" else -minutes, span)
