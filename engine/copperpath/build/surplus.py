"""`runs on surplus`: the model that stands in for a load's own, with a relay before it.

A load's model names it (`Model.on_surplus`); its further parameters, the relay's, are known where
the entry stands, in the device or in a part below it.
"""

from __future__ import annotations

from dataclasses import replace

from copperpath.build.build_errors import DuplicateEntry, NotOnSurplus, ValuesDisagree, WrongForm
from copperpath.build.common_entries import COMMON
from copperpath.build.parameters import entry_names
from copperpath.build.scope import Scope
from copperpath.build.sheets import Sheet
from copperpath.catalogue import Catalogue
from copperpath.plugin_api import Model
from copperpath_grammar.value_nodes import Entry, Reference

ENTRY = "runs"
EXAMPLE = "runs on surplus"


def switch_to_surplus(
    sheet: Sheet, entries: tuple[Entry, ...], owner: str, catalogue: Catalogue, scope: Scope
) -> tuple[Sheet, tuple[Entry, ...]]:
    """The sheet, with the other model where the entries say so, and the remaining entries.

    Parameters
    ----------
    owner : str
        What the entries speak of, for messages: "`steady`".
    """
    said = [entry for entry in entries if entry.name.text == ENTRY]
    own = {*COMMON, *(word for p in sheet.model.parameters for word in entry_names(p))}
    if not said and all(entry.name.text in own for entry in entries):
        return sheet, entries
    other = _other_model(sheet, catalogue)
    if said:
        for extra in said[1:]:
            scope.report(DuplicateEntry(extra.name.span, ENTRY, said[0].name.span))
        if not _is_on_surplus(said[0]):
            scope.report(WrongForm(said[0].span, ENTRY, "`on surplus` and nothing else", EXAMPLE))
        if other is None:
            able = tuple(
                name
                for name in catalogue.names
                if isinstance(model := catalogue.load(name), type)
                and model.on_surplus
                and not model.spare
            )
            scope.report(NotOnSurplus(said[0].span, owner, sheet.model.kind, able))
        else:
            sheet = replace(sheet, model=other)
    rest = tuple(entry for entry in entries if entry.name.text != ENTRY)
    if said or other is None or other is sheet.model:
        return sheet, rest
    relay = {word for p in other.parameters for word in entry_names(p)} - own
    for entry in rest:
        name = entry.name.text
        if name in relay:
            advice = f"write `{EXAMPLE}` above it, or leave it out"
            reason = f"counts only with `{EXAMPLE}`"
            scope.report(ValuesDisagree(entry.name.span, name, reason, advice))
    return sheet, tuple(entry for entry in rest if entry.name.text not in relay)


def _other_model(sheet: Sheet, catalogue: Catalogue) -> type[Model] | None:
    name = sheet.model.on_surplus
    if name not in catalogue.offers:
        return None
    found = catalogue.load(name)
    return found if isinstance(found, type) else None


def _is_on_surplus(entry: Entry) -> bool:
    return (
        [part.joiner for part in entry.parts] == ["on"]
        and isinstance(word := entry.parts[0].value, Reference)
        and word.text == "surplus"
    )
