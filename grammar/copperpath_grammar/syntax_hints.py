"""From a place where tokens stopped making sense to a mistake with a name.

Each check knows one or a few typical mistakes and looks for its pattern in the tokens around
that place; the first that recognises its mistake speaks. Statements are in
`statement_hints`, entries and values here.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from lark import Token

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.entry_errors import (
    ComparisonInEntry,
    EntryWithoutName,
    MissingValue,
    RunTogether,
    SideBySide,
    SignInEntry,
    StrayParenthesis,
    UnclosedParenthesis,
    Unexpected,
)
from copperpath_grammar.lexing import Stop, span_of
from copperpath_grammar.source import Source, Span
from copperpath_grammar.statement_errors import NotAName
from copperpath_grammar.wording import expected_in_words, in_words, shortened

LITERALS = frozenset(("NUMBER", "MEASURE", "GAUGE", "CLOCK", "DATE", "MOMENT", "TEXT"))
OPERATORS = frozenset(("PLUS", "_MINUS", "STAR", "SLASH", "DOTS"))
SOFT_WORDS = frozenset(
    (
        *("KIND", "STATION", "PART", "CABLE", "LET", "REQUIRE", "POWERED", "THROUGHOUT", "FOR"),
        *("KIT", "NEVER", "TOGETHER", "BOND", "DATA", "INCLUDE", "LIBRARY", "ASSEMBLY", "EXPOSE"),
        *("CASE", "CHANGE", "WITHOUT", "IN"),
    )
)
_ADDED = (
    frozenset(("s", "min", "h", "day", "days", "week", "weeks")),
    frozenset(("mm", "cm", "m", "km", "ft", "in", "inch")),
)
"""Units of which people write two for one quantity: `1 day 9 h`."""
NAMES = SOFT_WORDS | {"NAME"}


@dataclass(frozen=True, slots=True)
class Failure:
    """Tokens of one statement or entry, and where they stopped making sense."""

    tokens: tuple[Token, ...]
    stop: Stop
    source: Source

    @property
    def at(self) -> Token | None:
        """The first token that does not fit; None if more should follow."""
        index = self.stop.index
        return self.tokens[index] if index < len(self.tokens) else None

    @property
    def before(self) -> Token | None:
        """The last token that fits."""
        return self.tokens[self.stop.index - 1] if self.stop.index else None

    @property
    def span(self) -> Span:
        """The token that does not fit, or the place behind the last one."""
        if self.at is not None:
            return span_of(self.source, self.at)
        end = self.tokens[-1].end_pos or 0
        return Span(self.source, end, end)

    def span_from(self, first: int, last: int) -> Span:
        """The span from one token to another, by their indices."""
        return span_of(self.source, self.tokens[first], self.tokens[last])


Hint = Callable[[Failure], Diagnostic | None]


def entry_mistake(failure: Failure) -> Diagnostic:
    """The mistake in an entry that cannot be read."""
    return first_of(_ENTRY_HINTS, failure)


def first_of(hints: tuple[Hint, ...], failure: Failure) -> Diagnostic:
    """What the first hint that recognises its mistake says, else what was expected."""
    for hint in hints:
        found = hint(failure)
        if found is not None:
            return found
    expected = expected_in_words(failure.stop.expected)
    return Unexpected(failure.span, in_words(failure.at), expected)


# ---- names ----------------------------------------------------------------------------------


def name_like(text: str, word: str = "") -> str:
    """A proper name that resembles a text: `left-panel` gives `left_panel`."""
    plain = re.sub(r"\W+", "_", text).strip("_")
    if not plain:
        return ""
    return plain if not plain[0].isdigit() else f"{word or 'n'}_{plain}"


def run_together(failure: Failure, first: int) -> int:
    """Index of the last token that follows `first` without blanks, as in `left-panel`."""
    last = first
    while (
        last + 1 < len(failure.tokens)
        and failure.tokens[last + 1].start_pos == failure.tokens[last].end_pos
        and failure.tokens[last + 1].type in NAMES | {"_MINUS", "NUMBER", "JOINER", "MEASURE"}
    ):
        last += 1
    return last


def hyphenated(failure: Failure, first: int) -> Diagnostic | None:
    """`left-panel` where a name belongs, beginning at token `first`."""
    last = run_together(failure, first)
    if last == first or failure.tokens[first].type not in NAMES | {"JOINER"}:
        return None
    span = failure.span_from(first, last)
    if "-" not in span.text:
        return None
    return NotAName(span, span.text, "a hyphen is a minus sign", name_like(span.text))


# ---- entries --------------------------------------------------------------------------------


def _without_name(failure: Failure) -> Diagnostic | None:
    first = failure.tokens[0]
    if first.type in NAMES | {"JOINER"}:
        return None
    return EntryWithoutName(span_of(failure.source, first), in_words(first))


def _sign(failure: Failure) -> Diagnostic | None:
    if len(failure.tokens) < 2 or failure.tokens[1].type not in ("EQUAL", "COLON"):
        return None
    name, sign = failure.tokens[:2]
    rest = "..."
    if len(failure.tokens) > 2:
        rest = shortened(failure.span_from(2, len(failure.tokens) - 1).text)
    return SignInEntry(span_of(failure.source, sign), str(sign), str(name), rest)


def _comparison(failure: Failure) -> Diagnostic | None:
    if failure.at is None or failure.at.type not in ("COMPARISON", "EQUAL"):
        return None
    return ComparisonInEntry(failure.span, str(failure.tokens[0]))


def _run_together(failure: Failure) -> Diagnostic | None:
    """`mass0.11 kg`: the digits before the dot were taken for part of the name."""
    at, before = failure.at, failure.before
    if at is None or at.type != "DOT" or before is None or at.start_pos != before.end_pos:
        return None
    start = before.start_pos or 0
    match = re.compile(r"([^\W\d]+)(\d+\.\d+)").match(failure.source.text, start)
    if not match:
        return None
    span = Span(failure.source, start, match.end())
    return RunTogether(span, match[0], f"{match[1]} {match[2]}")


def _hyphen_in_entry(failure: Failure) -> Diagnostic | None:
    if len(failure.tokens) < 3 or failure.tokens[1].type != "_MINUS":
        return None
    return hyphenated(failure, 0)


def parentheses(failure: Failure) -> Diagnostic | None:
    """A parenthesis without its partner."""
    open_ones: list[Token] = []
    for token in failure.tokens[: failure.stop.index]:
        if token.type == "LPAR":
            open_ones.append(token)
        elif token.type == "RPAR" and open_ones:
            open_ones.pop()
    at = failure.at
    if at is not None and at.type == "RPAR" and not open_ones:
        return StrayParenthesis(failure.span)
    ends_early = at is None or at.type in ("COMMA", "JOINER", "DOTS")
    if open_ones and ends_early and failure.before and not _wants_value(failure.before):
        return UnclosedParenthesis(span_of(failure.source, open_ones[-1]))
    return None


def missing_value(failure: Failure) -> Diagnostic | None:
    """`on 06:00 to` and the like."""
    before, at = failure.before, failure.at
    if before is None or failure.stop.index < 2 or not _wants_value(before):
        return None
    if at is not None and at.type not in {"COMMA", "JOINER"} | OPERATORS:
        return None
    return MissingValue(span_of(failure.source, before), str(before))


def side_by_side(failure: Failure) -> Diagnostic | None:
    """Two values, or a value and a word, with nothing between them."""
    before, at = failure.before, failure.at
    if before is None or at is None or failure.stop.index < 2:
        return None
    if before.type not in LITERALS | NAMES | {"RPAR"} or at.type not in LITERALS | NAMES | {"LPAR"}:
        return None
    first, second = shortened(str(before)), shortened(str(at))
    return SideBySide(failure.span, first, second, _advice_between(failure, before, at))


def _advice_between(failure: Failure, before: Token, at: Token) -> str:
    """What to write between two values where it can be told from them; else ""."""
    if before.type == "MOMENT" and at.type in NAMES:
        return (
            "write how far the clock is from UTC in place of the zone's name: "
            f"`{before} +02:00`, or `+00:00` for UTC itself"
        )
    index = failure.stop.index
    if at.type in LITERALS and before.type in NAMES and failure.tokens[index - 2].type == "COMMA":
        return f"an entry ends with `;`, not with a comma: `; {before} {at}`"
    units = {_unit_of(before), _unit_of(at)}
    if before.type == at.type == "MEASURE" and any(units <= kind for kind in _ADDED):
        return f"what is added up has a `+`: `{before} + {at}`"
    return ""


def _unit_of(token: Token) -> str:
    return str(token).lstrip("0123456789.eE+-").strip()


def _wants_value(token: Token) -> bool:
    return token.type in {"COMMA", "JOINER", "LPAR"} | OPERATORS


VALUE_HINTS: tuple[Hint, ...] = (parentheses, missing_value, side_by_side)

_ENTRY_HINTS: tuple[Hint, ...] = (
    _without_name,
    _sign,
    _hyphen_in_entry,
    _run_together,
    _comparison,
    *VALUE_HINTS,
)
