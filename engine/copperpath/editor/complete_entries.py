"""Proposals inside a body: the entries that are not there yet, and how an entry goes on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lark import Token

from copperpath.editor.cursor import Cursor, Frame
from copperpath.editor.fixed_forms import (
    CABLE_FORMS,
    COMMON_FORMS,
    LEAD_FORMS,
    REPEATED,
    STATION_FORMS,
)
from copperpath.editor.forms import Form, model_forms
from copperpath.editor.names_in_reach import named_values
from copperpath.editor.outline import DEVICES
from copperpath.editor.reading import Reading
from copperpath.editor.suggestion import Suggestion, words
from copperpath.editor.unit_choice import MEANING, Measured, units_for
from copperpath.plugin_api import Hours

JOINS = ("JOINER", "IN", "COMMA", "DOTS")
OPERATORS = ("PLUS", "_MINUS", "STAR", "SLASH", "LPAR", "EQUAL")


def forms_in(reading: Reading, frame: Frame, owner: str) -> Mapping[str, Form]:
    """The entries that a body takes, by name."""
    header = frame.header
    match frame.word:
        case "station" | "case":
            return STATION_FORMS
        case "cable":
            return cable_forms(header)
        case "data":
            return LEAD_FORMS
        case "change" if len(header) > 1 and header[1].type == "CABLE":
            return cable_forms(header[1:])
        case "change" if len(header) > 1:
            device = reading.outline.device(str(header[1]), owner)
            return {} if device is None else forms_behind(reading, device.word, device.of)
        case word if word == "part" or word in DEVICES:
            colons = [index for index, token in enumerate(header) if token.type == "COLON"]
            behind = str(header[colons[0] + 1]) if colons and colons[0] + 1 < len(header) else ""
            return forms_behind(reading, word, behind)
    return {}


def cable_forms(header: Sequence[Token]) -> Mapping[str, Form]:
    """The entries of a cable; its fuse may sit at one of its own ends."""
    ends = [
        str(header[index + 1])
        for index, token in enumerate(header[:-1])
        if token.type in ("CABLE", "ARROW")
    ]
    fuse = CABLE_FORMS["fuse"]
    return {**CABLE_FORMS, "fuse": replace(fuse, after={"at": (*ends, *fuse.after["at"])})}


def complete_entry(reading: Reading, cursor: Cursor) -> list[Suggestion]:
    """Proposals at this place of a body."""
    frame = cursor.frame
    assert frame is not None
    forms = forms_in(reading, frame, cursor.owner)
    if not cursor.line:
        return _entries(forms, _given(reading, frame, cursor.owner))
    form = forms.get(str(cursor.line[0]))
    return [] if form is None else complete_value(reading, cursor, form)


def complete_value(reading: Reading, cursor: Cursor, form: Form) -> list[Suggestion]:
    """Proposals behind an entry's name."""
    line, owner = cursor.line, cursor.owner
    last = line[-1]
    measured = _measured(form, line)
    if cursor.unit:
        right_behind = cursor.start == (last.end_pos or 0) and last.type == "NUMBER"
        usual = form.unit if measured == form.measured.get("") else ""
        return _units(measured, usual, " " if right_behind else "") + _joins(form, line)
    if len(line) == 1:
        found = words(form.first)
        if form.named:
            found += named_values(reading, owner, measured)
        if form.example and not cursor.word:
            found.append(Suggestion(form.example, "value", "for example"))
        return found
    if last.type in (*JOINS, *OPERATORS):
        named = named_values(reading, owner, measured) if form.named else []
        return words(form.after.get(_joiner(line), ())) + named
    return _joins(form, line)


def _joins(form: Form, line: Sequence[Token]) -> list[Suggestion]:
    """What may join a further value; some words stand only once in an entry."""
    standing = {str(token) for token in line[1:]} & {"..", "at", "within", "of", "otherwise"}
    return words(join for join in form.joins if join not in standing)


def forms_behind(reading: Reading, word: str, behind: str) -> Mapping[str, Form]:
    """The entries of a device or part of this model or part, of a kit of this assembly."""
    if word == "kit":
        assembly = reading.outline.assembly(behind)
        names = assembly.parameters if assembly is not None else ()
        told = f"A value that `{behind}` takes."
        return {name: Form(told, measured={"": "any"}) for name in names}
    model = reading.model_behind(behind)
    return {**(model_forms(model) if model is not None else {}), **COMMON_FORMS}


def _given(reading: Reading, frame: Frame, owner: str) -> set[str]:
    """Names of entries that stand in a body already, and what they shut out."""
    given = {str(line[0]) for line in frame.lines}
    colons = [index for index, token in enumerate(frame.header) if token.type == "COLON"]
    if colons and colons[0] + 1 < len(frame.header):
        model = reading.model_behind(str(frame.header[colons[0] + 1]))
        for each in model.parameters if model is not None else ():
            if isinstance(each, Hours) and given & {each.name, each.inverse}:
                given |= {each.name, each.inverse}
    return given


def _entries(forms: Mapping[str, Form], given: set[str]) -> list[Suggestion]:
    return [
        Suggestion(
            name,
            "entry",
            form.example or (f"one of {', '.join(form.first)}" if form.first else ""),
            form.help,
            f"{name} " if form.measured or form.first or form.example else "",
        )
        for name, form in forms.items()
        if name not in given or name in REPEATED
    ]


def _units(measured: Measured, usual: str, blank: str) -> list[Suggestion]:
    found = []
    for unit in units_for(measured, usual):
        meaning = "west" if measured == "longitude" and unit == "W" else MEANING.get(unit, "")
        found.append(Suggestion(unit, "unit", meaning, insert=f"{blank}{unit}"))
    return found


def _measured(form: Form, line: Sequence[Token]) -> Measured:
    """What the value here measures."""
    joiner = _joiner(line)
    if joiner in form.measured:
        return form.measured[joiner]
    operators = [token for token in line[1:] if token.type in OPERATORS]
    if operators and str(operators[-1]) in form.measured:
        return form.measured[str(operators[-1])]
    return form.measured.get("", "any")


def _joiner(line: Sequence[Token]) -> str:
    """The word or sign before the value here; of commas as many as there are."""
    joins = [str(token) for token in line[1:] if token.type in JOINS]
    if joins and joins[-1] == ",":
        return "," * joins.count(",")
    return joins[-1] if joins else ""
