"""Parts: datasheets written once, and which model stands at the end of a chain of them."""

from __future__ import annotations

from collections.abc import Mapping

from copperpath.build.accepting import ACCEPTING, accepting_key
from copperpath.build.build_errors import OnAndOff, PartCycle, PartHidesModel
from copperpath.build.common_entries import COMMON, read_common
from copperpath.build.entries import known_entries
from copperpath.build.include.shelf import library_of_parts
from copperpath.build.model_errors import BrokenModel, OtherVersion, UnknownModel
from copperpath.build.parameters import entry_names
from copperpath.build.scope import Scope
from copperpath.build.sheets import Sheet
from copperpath.build.surplus import switch_to_surplus
from copperpath.build.uncertain import read_given
from copperpath.catalogue import Catalogue, PluginProblem
from copperpath.plugin_api import AnyParameter
from copperpath_grammar.nodes import PartNode
from copperpath_grammar.value_nodes import Entry, Name


def settle_parts(
    parts: Mapping[str, PartNode], catalogue: Catalogue, scope: Scope
) -> dict[str, Sheet | None]:
    """The sheet of each part; None where its chain ends in a mistake, which is reported once."""
    for name, part in parts.items():
        if name in catalogue.offers:
            scope.report(PartHidesModel(part.name.span, name))
    parts = {name: part for name, part in parts.items() if name not in catalogue.offers}
    sheets: dict[str, Sheet | None] = {}
    for start in parts:
        chain: dict[str, None] = {}
        name = start
        while name in parts and name not in sheets and name not in chain:
            chain[name] = None
            name = parts[name].model.text
        if name in chain and name not in sheets:
            names = list(chain)
            cycle = tuple(names[names.index(name) :])
            scope.report(PartCycle(parts[cycle[0]].name.span, cycle))
            sheets.update(dict.fromkeys(chain))
            continue
        for each in reversed(chain):
            sheets[each] = _settle(parts[each], sheets, catalogue, scope)
    return sheets


def sheet_for(
    model: Name, sheets: Mapping[str, Sheet | None], catalogue: Catalogue, scope: Scope
) -> Sheet | None:
    """The part or model of that name; None if it is unknown (reported) or broken (reported)."""
    name = model.text
    if name in sheets:
        return sheets[name]
    if name not in catalogue.offers:
        if not scope.may_be_unread(name):
            shelf = library_of_parts()
            near = scope.near(name, [*sheets, *catalogue.names, *shelf])
            trouble = "; ".join(str(problem) for problem in catalogue.problems)
            library = "" if near in sheets or near in catalogue.offers else shelf.get(near, "")
            scope.report(UnknownModel(model.span, name, near, catalogue.names, trouble, library))
        return None
    found = catalogue.load(name)
    if isinstance(found, PluginProblem) and found.version:
        scope.report(OtherVersion(model.span, name, found.distribution, found.message))
        return None
    if isinstance(found, PluginProblem):
        scope.report(BrokenModel(model.span, str(found)))
        return None
    return Sheet(found, {})


def add_entries(
    sheet: Sheet, entries: tuple[Entry, ...], owner: str, catalogue: Catalogue, scope: Scope
) -> Sheet:
    """The sheet with the entries of one more body over it; later bodies win."""
    sheet, entries = switch_to_surplus(sheet, entries, owner, catalogue, scope)
    by_word = {word: p for p in sheet.model.parameters for word in entry_names(p)}
    kept, meant = known_entries(entries, (*by_word, *COMMON), owner, scope, repeatable=ACCEPTING)
    own: dict[str, Entry] = {}
    for entry in kept:
        parameter = by_word.get(entry.name.text)
        key = _common_key(entry) if parameter is None else parameter.name
        if key in own:
            first = own[key].name
            scope.report(OnAndOff(entry.name.span, entry.name.text, first.text, first.span))
        else:
            own[key] = entry
    return Sheet(sheet.model, {**sheet.entries, **own}, sheet.meant | meant)


def _common_key(entry: Entry) -> str:
    """By what an entry that every device takes is known: of what is accepted or confirmed there may
    be several."""
    return accepting_key(entry) if entry.name.text in ACCEPTING else entry.name.text


def parameter_of(sheet: Sheet, key: str) -> AnyParameter | None:
    """The declaration an entry speaks of; None for the entries that every device takes."""
    return next((p for p in sheet.model.parameters if p.name == key), None)


def _settle(
    part: PartNode, sheets: Mapping[str, Sheet | None], catalogue: Catalogue, scope: Scope
) -> Sheet | None:
    below = sheet_for(part.model, sheets, catalogue, scope)
    if below is None:
        return None
    sheet = add_entries(below, part.body.entries, f"`{part.model.text}`", catalogue, scope)
    unread = {broken.text for broken in part.body.broken}
    sheet = Sheet(sheet.model, sheet.entries, sheet.meant | unread)
    # Each value is looked at here, so that a part no device uses is checked as well; what a
    # device finds wrong again is the same message at the same place and shown once.
    own = {id(entry) for entry in part.body.entries}
    for key, entry in sheet.entries.items():
        if id(entry) in own:
            parameter = parameter_of(sheet, key)
            if parameter is None:
                read_common(entry, scope)
            else:
                read_given(parameter, entry, scope)
    return sheet
