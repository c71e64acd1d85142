"""Proposals outside bodies: how a statement begins, and how its line goes on."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from lark import Token

from copperpath.build.include.libraries import libraries
from copperpath.build.requirements import QUANTITIES, STATION_WIDE
from copperpath.editor.complete_entries import complete_value
from copperpath.editor.cursor import Cursor
from copperpath.editor.forms import Form
from copperpath.editor.names_in_reach import behind_dot, devices, models, named_values
from copperpath.editor.outline import DEVICES
from copperpath.editor.reading import Reading
from copperpath.editor.suggestion import Suggestion, words
from copperpath.editor.unit_choice import Measured
from copperpath_grammar.statement_words import EXAMPLES

COMPARISONS = (">=", "<=", ">", "<")
SEPARATORS = ("CABLE", "ARROW", "COMMA", "TOGETHER", "BOND", "DATA", "CHANGE", "WITHOUT", "REQUIRE")


def statement_words(allowed: Sequence[str]) -> list[Suggestion]:
    """The words with which a line here may begin."""
    return [
        Suggestion(word, "statement", EXAMPLES.get(word, ""), insert=f"{word} ") for word in allowed
    ]


def complete_statement(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    """Proposals behind the first word of a statement."""
    line = cursor.line
    if line[-1].type == "DOT":
        wanted = "quantity" if line[0].type == "REQUIRE" else "terminal"
        return behind_dot(reading, path_before(line), cursor.owner, wanted)
    if line[-1].type == "COLON":
        return _behind_colon(reading, line)
    known = _BY_WORD.get(line[0].type)
    return [] if known is None else known(reading, cursor)


def path_before(line: Sequence[Token]) -> list[str]:
    """The names before the dot at the end of a line, without what stands in square brackets."""
    names: list[str] = []
    depth, wants_name = 0, True
    for token in reversed(line[:-1]):
        if token.type in ("RSQB", "LSQB"):
            depth += 1 if token.type == "RSQB" else -1
        elif depth == 0:
            if wants_name and (token[:1].isidentifier() or token.type == "NUMBER"):
                names.insert(0, str(token))
                wants_name = False
            elif not wants_name and token.type == "DOT":
                wants_name = True
            else:
                break
    return names


def _behind_colon(reading: Reading, line: Sequence[Token]) -> list[Suggestion]:
    if line[0].type == "KIT":
        return [
            Suggestion(each.name, "part", "assembly", f"`{each.header}`")
            for each in reading.outline.inside("")
            if each.word == "assembly"
        ]
    found = models(reading, str(line[0]) if str(line[0]) in DEVICES else "")
    return [each for each in found if line[0].type != "PART" or each.label != str(line[1])]


def _ends(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    """The two ends of a cable or a data lead."""
    line = cursor.line
    if line[-1].type in SEPARATORS:
        return devices(reading, cursor.owner)
    return [] if any(token.type == "ARROW" for token in line) else words(("->",))


def _let(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    if any(token.type == "EQUAL" for token in cursor.line):
        found = complete_value(reading, cursor, Form("", measured={"": "any"}))
        return [each for each in found if each.label != str(cursor.line[1])]
    return []


def _never(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    last = cursor.line[-1].type
    if last == "NEVER":
        return words(("together",))
    if last not in SEPARATORS:
        return []
    keyed = [
        each
        for each in devices(reading, cursor.owner)
        if _may_be_keyed(reading, each.label, cursor.owner)
    ]
    named = {str(token) for token in cursor.line}
    return [each for each in keyed if each.label not in named]


def _may_be_keyed(reading: Reading, name: str, owner: str) -> bool:
    device = reading.outline.device(name, owner)
    if device is None or device.word == "kit":
        return device is not None
    model = reading.model_behind(device.of)
    return model is None or model.keying is not None


def _bond(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    last = cursor.line[-1]
    if last.type == "BOND":
        return devices(reading, cursor.owner)
    if last.type == "JOINER":
        return [*words(("chassis",)), *devices(reading, cursor.owner)]
    return [] if any(token.type == "JOINER" for token in cursor.line) else words(("to",))


def _include(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    if cursor.line[-1].type == "INCLUDE":
        return words(("library",))
    found = [Suggestion(name, "value", "library", insert=f'"{name}"') for name in libraries()]
    return found if cursor.line[-1].type == "LIBRARY" else []


def _without(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    last = cursor.line[-1].type
    if last in SEPARATORS:
        cable = [] if last in ("CABLE", "ARROW") else words(("cable",))
        return cable + devices(reading, cursor.owner)
    behind_comma = cursor.line[_last_of(cursor.line, ("COMMA", "WITHOUT", "CHANGE")) + 1 :]
    is_cable = bool(behind_comma) and behind_comma[0].type == "CABLE"
    whole = any(token.type == "ARROW" for token in behind_comma)
    return words(("->",)) if is_cable and not whole else []


def _expose(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    if cursor.line[-1].type == "ARROW":
        return devices(reading, cursor.owner)
    return words(("->",)) if len(cursor.line) == 2 else []


def _require(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    line = cursor.line
    last = line[-1].type
    types = [token.type for token in line]
    if last == "REQUIRE":
        whole = [*words(STATION_WIDE, "of the whole station"), *words(("holds",), "the verdict")]
        return devices(reading, cursor.owner) + whole
    if "IN" in types:
        return _cases(reading, line)
    if last == "POWERED":
        return words(("throughout", "for"))
    if last == "FOR" or "FOR" in types:
        return _limit(reading, cursor, "time")
    if "COMPARISON" in types:
        return _limit(reading, cursor, _compared(line))
    if last == "THROUGHOUT" or (len(line) == 2 and line[1] == "holds"):
        return words(("in",))
    if len(line) > 2 and line[-2].type == "DOT" and str(line[-1]) in QUANTITIES:
        return words(COMPARISONS)
    whole_station = str(line[-1]) in STATION_WIDE
    return words(COMPARISONS if whole_station else ("powered", *COMPARISONS))


def _limit(reading: Reading, cursor: Cursor, measured: Measured) -> list[Suggestion]:
    """A limit or a time: named values, units behind a number, and the cases it holds in."""
    last = cursor.line[-1]
    if last.type in ("FOR", "COMPARISON"):
        return named_values(reading, cursor.owner, measured)
    found = complete_value(reading, cursor, Form("", measured={"": measured}))
    return found if last.type == "NUMBER" else found + words(("in",))


def _compared(line: Sequence[Token]) -> Measured:
    """What the quantity before a comparison measures."""
    subject = str(line[_last_of(line, ("COMPARISON",)) - 1])
    return QUANTITIES.get(subject) or STATION_WIDE.get(subject) or "any"


def _cases(reading: Reading, line: Sequence[Token]) -> list[Suggestion]:
    last = line[-1]
    if last.type == "IN":
        return words(("every", "case"))
    if last.type == "JOINER":
        return words(("case",))
    every = any(token.type == "JOINER" for token in line[_last_of(line, ("IN",)) :])
    if last.type in ("CASE", "COMMA") and not every:
        return [
            Suggestion(each.label, "case", each.detail, insert=f'"{each.label}"')
            for each in case_titles(reading)
        ]
    return []


def case_titles(reading: Reading) -> list[Suggestion]:
    """The cases of the file."""
    return [
        Suggestion(each.name, "case", "case")
        for each in reading.outline.inside("")
        if each.word == "case"
    ]


def _last_of(line: Sequence[Token], types: Sequence[str]) -> int:
    return max((index for index, token in enumerate(line) if token.type in types), default=-1)


_BY_WORD: dict[str, Callable[[Reading, Cursor], list[Suggestion]]] = {
    "CABLE": _ends,
    "DATA": _ends,
    "LET": _let,
    "NEVER": _never,
    "BOND": _bond,
    "INCLUDE": _include,
    "WITHOUT": _without,
    "CHANGE": _without,
    "EXPOSE": _expose,
    "REQUIRE": _require,
}
