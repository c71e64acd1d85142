"""What an author lets stand, and what an author answers: `accept` a finding with the reason,
`confirm` a question of the checklist with how. They stand in the body of what they speak of."""

from __future__ import annotations

from collections.abc import Iterable
from importlib.metadata import entry_points

from copperpath.build.build_errors import WrongForm
from copperpath.build.scope import Scope
from copperpath.build.value_errors import UnknownWord
from copperpath.station import Accepted, Confirmed
from copperpath_grammar.value_nodes import Entry, Text

ACCEPTING = ("accept", "confirm")
FORMS = {
    "accept": (
        "the name of a wiring rule and why its finding may stand, both in double quotes",
        'accept "low-power", "we run it at half power"',
    ),
    "confirm": (
        "a question of the checklist and its answer, both in double quotes",
        'confirm "lightning", "we take the antennas down and leave"',
    ),
}
RULES = "copperpath.rules"
TAKES = "it takes the name of a wiring rule; `copperpath explain` lists them at its end"


def read_accepting(
    entries: Iterable[Entry], subject: str, scope: Scope
) -> tuple[tuple[Accepted, ...], tuple[Confirmed, ...]]:
    """All `accept` and `confirm` among the entries of one body; `subject` is whose it is, "" for
    the station's."""
    accepted: list[Accepted] = []
    confirmed: list[Confirmed] = []
    for entry in entries:
        name = entry.name.text
        if name not in ACCEPTING:
            continue
        texts = _two_texts(entry)
        if texts is None:
            takes, example = FORMS[name]
            scope.report(WrongForm(entry.span, name, takes, example))
        elif name == "confirm":
            confirmed.append(Confirmed(texts[0].value, subject, texts[1].value, entry.span))
        elif _is_rule(texts[0], scope):
            accepted.append(Accepted(texts[0].value, subject, texts[1].value, entry.span))
    return tuple(accepted), tuple(confirmed)


def accepting_key(entry: Entry) -> str:
    """What tells one of them from another in the same body, so that each may stand once; one that
    is not written as it must be is like no other."""
    texts = _two_texts(entry)
    name = entry.name.text
    return f"{name} {entry.span.start}" if texts is None else f'{name} "{texts[0].value}"'


def _two_texts(entry: Entry) -> tuple[Text, Text] | None:
    if tuple(part.joiner for part in entry.parts) != ("", ","):
        return None
    first, second = (part.value for part in entry.parts)
    if not isinstance(first, Text) or not isinstance(second, Text) or not second.value.strip():
        return None
    return first, second


def rule_names() -> tuple[str, ...]:
    """The names of the installed rules; none is loaded for this."""
    return tuple(sorted(point.name.replace("_", "-") for point in entry_points(group=RULES)))


def _is_rule(text: Text, scope: Scope) -> bool:
    """True if a rule of that name is installed."""
    names = rule_names()
    if text.value in names:
        return True
    near = scope.near(text.value, names)
    scope.report(UnknownWord(text.span, "accept", text.value, near, names, TAKES))
    return False
