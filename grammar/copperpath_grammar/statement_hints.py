"""Named mistakes in the first lines of statements: declarations, cables, `let`, `require`."""

from __future__ import annotations

from difflib import get_close_matches

from lark import Token

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.lexing import span_of
from copperpath_grammar.source import Source, Span
from copperpath_grammar.statement_errors import (
    BadLet,
    EmptyRequirement,
    IncompleteRequirement,
    MisformedStatement,
    MissingArrow,
    MissingColon,
    MissingEnd,
    MissingModel,
    MissingName,
    MissingTitle,
    NotAName,
    NotAStatement,
    OnlyInside,
    ThirdEnd,
    UnknownStatement,
    WrongCase,
    WrongComparison,
    WrongCount,
)
from copperpath_grammar.statement_words import EXAMPLES, INSIDE_ONLY, STATEMENT_WORDS
from copperpath_grammar.syntax_errors import MissingBody, MissingOpening, UnwantedBody
from copperpath_grammar.syntax_hints import (
    LITERALS,
    NAMES,
    VALUE_HINTS,
    Failure,
    Hint,
    first_of,
    hyphenated,
    name_like,
)
from copperpath_grammar.wording import expected_in_words, in_words, shortened

# Words of the trade for things that have another word here.
_SAME_MEANING = {
    "battery": "storage",
    "accumulator": "storage",
    "panel": "source",
    "solar": "source",
    "generator": "source",
    "supply": "source",
    "radio": "load",
    "consumer": "load",
    "device": "load",
    "charger": "converter",
    "controller": "converter",
    "regulator": "converter",
    "wire": "cable",
    "lead": "cable",
    "fuse": "block",
    "switch": "block",
    "bus": "block",
    "box": "kit",
    "module": "assembly",
    "template": "assembly",
    "import": "include",
    "use": "include",
    "scenario": "case",
    "variant": "case",
    "ground": "bond",
    "exclusive": "never",
    "site": "station",
    "demand": "require",
    "requires": "require",
}
_LIMITS = {"charge": "20 %", "mass": "6 kg", "current": "5 A", "power": "30 W", "energy": "50 Wh"}
_QUANTITIES = ("voltage", "mean_voltage", "current", "power", "charge", "energy")
_BETTER_COMPARISON = {"=>": ">=", "=<": "<=", "=>=": ">=", "=<=": "<="}


def statement_mistake(failure: Failure) -> Diagnostic:
    """The mistake in a statement whose first word is known."""
    return first_of(_HINTS[failure.tokens[0].type], failure)


def unknown_statement(tokens: list[Token], source: Source, *, has_body: bool) -> Diagnostic:
    """What to say about a line that begins with no known word."""
    first = tokens[0]
    span = span_of(source, first)
    word = str(first)
    if word in INSIDE_ONLY:
        return OnlyInside(span, word)
    if not (word[:1].isidentifier() and first.type != "TEXT"):
        return NotAStatement(span, in_words(first))
    if word.lower() in STATEMENT_WORDS:
        return WrongCase(span, word)
    synonym = [_SAME_MEANING[word.lower()]] if word.lower() in _SAME_MEANING else []
    nearest = synonym or get_close_matches(word.lower(), STATEMENT_WORDS, n=1, cutoff=0.7)
    is_entry = not has_body and (len(tokens) == 1 or tokens[1].type in LITERALS)
    return UnknownStatement(
        span, shortened(word), nearest[0] if nearest and not is_entry else "", is_entry
    )


# ---- declarations ---------------------------------------------------------------------------


def _no_body(failure: Failure) -> Diagnostic | None:
    """No `{` follows, although nothing else could."""
    if "LBRACE" not in failure.stop.expected:
        return None
    if failure.at is not None:
        if any(token.type == "LBRACE" for token in failure.tokens):
            return None
        return MissingOpening(failure.span, in_words(failure.at))
    statement = failure.span_from(0, len(failure.tokens) - 1)
    if len(statement.text) > 60 or "\n" in statement.text:
        statement = span_of(failure.source, failure.tokens[0])
    return MissingBody(statement, shortened(statement.text))


def _title(failure: Failure) -> Diagnostic | None:
    if failure.stop.index != 1:
        return None
    first = span_of(failure.source, failure.tokens[0])
    kind = str(failure.tokens[0])
    if failure.at is None or failure.at.type not in NAMES:
        return MissingTitle(first, "", kind)
    last = 1
    while last + 1 < len(failure.tokens) and failure.tokens[last + 1].type in NAMES | {"JOINER"}:
        last += 1
    span = failure.span_from(1, last)
    if "\n" in span.text:
        span = failure.span
    return MissingTitle(span, shortened(span.text), kind)


def _declared_name(failure: Failure) -> Diagnostic | None:
    """`load : steady`, `load "rig" : ...`, `load left-lamp : ...`."""
    word = str(failure.tokens[0])
    first = span_of(failure.source, failure.tokens[0])
    if len(failure.tokens) < 2 or failure.tokens[1].type in ("COLON", "LBRACE"):
        return MissingName(first, word)
    return _proper_name(failure, 1, word)


def _proper_name(failure: Failure, index: int, word: str) -> Diagnostic | None:
    """Complain if the token at `index` is no name although one belongs there."""
    token = failure.tokens[index]
    span = span_of(failure.source, token)
    text = str(token)
    if token.type == "TEXT":
        return NotAName(span, shortened(text), "a name has no quotes", name_like(text, word))
    if token.type in LITERALS:
        return NotAName(span, text, "it begins with a digit", name_like(text, word))
    if token.type == "JOINER":
        return NotAName(span, text, "this word joins values in an entry", f"{word}_{text}")
    return hyphenated(failure, index)


def _model(failure: Failure) -> Diagnostic | None:
    """`load rig transceiver`, `load rig`, `load rig :`, `load rig = transceiver`."""
    word, name, *rest = failure.tokens
    if name.type not in NAMES:
        return None
    kinds = [token.type for token in rest]
    if not kinds or kinds[0] == "LBRACE" or kinds[:2] == ["COLON", "LBRACE"] or kinds == ["COLON"]:
        return MissingModel(span_of(failure.source, name), str(word), str(name))
    if kinds[0] == "COLON":
        return _proper_name(failure, 3, "")
    model = rest[0] if kinds[0] in NAMES else rest[1] if len(rest) > 1 else rest[0]
    if model.type not in NAMES or kinds[0] not in NAMES | {"EQUAL", "ARROW", "COMMA", "_MINUS"}:
        return None
    return MissingColon(span_of(failure.source, rest[0]), str(word), str(name), str(model))


def _count(failure: Failure) -> Diagnostic | None:
    """`load handheld(6)`, `load handheld[]`, `load handheld[6 : dock`."""
    if len(failure.tokens) < 3 or failure.tokens[2].type not in ("LPAR", "LSQB"):
        return None
    kinds = [token.type for token in failure.tokens]
    if "RSQB" in kinds[: failure.stop.index] and "LSQB" in kinds:
        return None
    colon = kinds.index("COLON") if "COLON" in kinds else len(kinds)
    span = failure.span_from(2, max(2, colon - 1))
    return WrongCount(span, str(failure.tokens[0]), str(failure.tokens[1]))


# ---- cables ---------------------------------------------------------------------------------


def _cable_ends(failure: Failure) -> Diagnostic | None:
    tokens = [token for token in failure.tokens if token.type not in ("LBRACE", "RBRACE")]
    first = span_of(failure.source, tokens[0])
    if len(tokens) == 1:
        return MissingEnd(first, "begins and ends")
    arrows = [index for index, token in enumerate(tokens) if token.type == "ARROW"]
    if not arrows:
        return _other_arrow(tokens, 1, failure.source)
    arrow = arrows[0]
    if arrow == 1:
        return MissingEnd(span_of(failure.source, tokens[1]), "begins")
    if arrow == len(tokens) - 1:
        return MissingEnd(span_of(failure.source, tokens[arrow]), "ends")
    if tokens[arrow - 1].type in ("_MINUS", "ODD"):
        return _other_arrow(tokens, 1, failure.source)
    if len(arrows) > 1 and failure.at is not None and failure.at.type == "ARROW":
        return ThirdEnd(failure.span)
    for index in (1, arrow + 1):
        found = _proper_name(failure, index, "cable")
        if found is not None:
            return found
    return None


def _other_arrow(tokens: list[Token], start: int, source: Source) -> Diagnostic | None:
    """`a - b`, `a => b`, `a to b`, `a b` and `a` alone."""
    middle = start
    while middle < len(tokens) and (
        tokens[middle].type in NAMES | {"NUMBER", "DOT"}
        and (middle == start or tokens[middle].start_pos == tokens[middle - 1].end_pos)
    ):
        middle += 1
    if middle == start:
        return None
    end = middle
    while end < len(tokens) and tokens[end].type not in NAMES:
        end += 1
    if end == len(tokens):
        return MissingEnd(span_of(source, tokens[start], tokens[middle - 1]), "ends")
    begin = span_of(source, tokens[start], tokens[middle - 1])
    target = span_of(source, tokens[end], tokens[-1])
    sign = span_of(source, tokens[middle], tokens[max(end - 1, middle)])
    if end == middle:  # nothing between them: mark the blank
        return MissingArrow(
            Span(source, begin.start, target.end), "", shortened(begin.text), shortened(target.text)
        )
    return MissingArrow(sign, shortened(sign.text), shortened(begin.text), shortened(target.text))


# ---- let and require ------------------------------------------------------------------------


def _let(failure: Failure) -> Diagnostic | None:
    first = span_of(failure.source, failure.tokens[0])
    if len(failure.tokens) < 2 or failure.tokens[1].type == "EQUAL":
        return BadLet(first, "name")
    found = _proper_name(failure, 1, "value")
    if found is not None:
        return found
    if failure.stop.index == 2:
        return BadLet(failure.span, "`=`")
    if failure.stop.index == 3 and failure.at is None:
        return BadLet(span_of(failure.source, failure.tokens[2]), "value")
    return None


def _unwanted_body(failure: Failure) -> Diagnostic | None:
    if failure.at is None or failure.at.type != "LBRACE":
        return None
    return UnwantedBody(failure.span, str(failure.tokens[0]))


def _nothing_required(failure: Failure) -> Diagnostic | None:
    if len(failure.tokens) > 1:
        return None
    return EmptyRequirement(span_of(failure.source, failure.tokens[0]))


def _comparison_sign(failure: Failure) -> Diagnostic | None:
    """`=`, `==`, `=>`, `><` and the like."""
    signs = ("EQUAL", "COMPARISON")
    places = [i for i, token in enumerate(failure.tokens) if token.type in signs]
    if not places:
        return None
    first = last = places[0]
    while last + 1 in places and failure.tokens[last + 1].start_pos == failure.tokens[last].end_pos:
        last += 1
    span = failure.span_from(first, last)
    if span.text in ("<", "<=", ">", ">="):
        return None
    return WrongComparison(span, shortened(span.text), _BETTER_COMPARISON.get(span.text, ""))


def _quantity_apart(failure: Failure) -> Diagnostic | None:
    """`require rig voltage >= 10.5 V`."""
    if failure.stop.index < 2 or failure.at is None or str(failure.at) not in _QUANTITIES:
        return None
    if all(token.type != "COMPARISON" for token in failure.tokens):
        return None
    device = shortened(failure.span_from(1, failure.stop.index - 1).text)
    rest = shortened(failure.span_from(failure.stop.index, len(failure.tokens) - 1).text)
    example = f"require {device}.{rest}"
    return MisformedStatement(failure.span, "require", in_words(failure.at), ("a dot",), example)


def _incomplete(failure: Failure) -> Diagnostic | None:
    if failure.at is not None or failure.before is None:
        return None
    subject = _subject(failure)
    span = failure.span_from(1, len(failure.tokens) - 1)
    if failure.before.type == "COMPARISON":
        last = span_of(failure.source, failure.before)
        limit = _LIMITS.get(subject.rpartition(".")[2], "10.5 V")
        return IncompleteRequirement(
            last, "the limit", f"require {subject} {failure.before} {limit}"
        )
    if failure.before.type in ("POWERED", "FOR") and len(failure.tokens) > 2:
        last = span_of(failure.source, failure.before)
        example = f"require {subject} powered throughout` or `require {subject} powered for 48 h"
        return IncompleteRequirement(last, "for how long", example)
    if "COMPARISON" in failure.stop.expected:
        lack = f"what must be true of `{subject}`"
        return IncompleteRequirement(span, lack, f"require {subject} >= 10.5 V")
    return None


def _subject(failure: Failure) -> str:
    last = 1
    while last + 1 < len(failure.tokens) and (
        failure.tokens[last + 1].start_pos == failure.tokens[last].end_pos
    ):
        last += 1
    return shortened(failure.span_from(1, last).text)


# ---- the rest -------------------------------------------------------------------------------


def _misformed(failure: Failure) -> Diagnostic | None:
    """What fits no better hint: where it stops making sense, and how it is written."""
    word = str(failure.tokens[0])
    if word not in EXAMPLES:  # a kind of device has hints of its own
        return None
    expected = expected_in_words(failure.stop.expected)
    return MisformedStatement(failure.span, word, in_words(failure.at), expected)


_OTHERS: tuple[Hint, ...] = (_no_body, _unwanted_body, *VALUE_HINTS[:2], _misformed)
_DECLARATION: tuple[Hint, ...] = (_declared_name, _count, _model, _no_body)
_HINTS: dict[str, tuple[Hint, ...]] = {
    "STATION": (_title, _no_body),
    "PART": _DECLARATION,
    "KIND": _DECLARATION,
    "CABLE": (_cable_ends, _no_body),
    "LET": (_let, _unwanted_body, *VALUE_HINTS),
    "REQUIRE": (
        _nothing_required,
        _quantity_apart,
        _comparison_sign,
        _incomplete,
        _unwanted_body,
        VALUE_HINTS[0],
    ),
    "KIT": _DECLARATION,
    **dict.fromkeys(("NEVER", "BOND", "INCLUDE", "EXPOSE", "WITHOUT"), _OTHERS),
    "DATA": (*VALUE_HINTS[:2], _misformed),
    "CASE": (_title, _no_body, _misformed),
    **dict.fromkeys(("ASSEMBLY", "CHANGE"), (_no_body, *VALUE_HINTS[:2], _misformed)),
}
