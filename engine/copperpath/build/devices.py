"""Devices: the sheet of each settled into values, defaults listed, its model asked to agree."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from copperpath.build.accepting import ACCEPTING, read_accepting
from copperpath.build.build_errors import MissingEntry, ModelFails, ValuesDisagree, WrongKind
from copperpath.build.common_entries import COMMON, read_common
from copperpath.build.parameters import (
    default_of,
    entry_names,
    example_of,
    is_required,
)
from copperpath.build.parts import add_entries, sheet_for
from copperpath.build.scope import Scope, unread_in
from copperpath.build.sheets import Sheet
from copperpath.build.uncertain import Spread, read_given
from copperpath.catalogue import Catalogue
from copperpath.plugin_api import Model, Parameter, ParameterProblem, Ways
from copperpath.station import Assumption, Device
from copperpath_grammar.nodes import DeviceNode
from copperpath_grammar.source import Span


@dataclass(frozen=True, slots=True)
class Known:
    """A declared device as cables and requirements need it, even if its values are wrong.

    `model` is None if that is not known; `ways` is None if their number is not known.
    """

    node: DeviceNode
    model: type[Model] | None = None
    ways: int | None = None
    device: Device | None = None
    assumptions: tuple[Assumption, ...] = ()
    spreads: tuple[Spread, ...] = ()


def build_device(
    node: DeviceNode, sheets: Mapping[str, Sheet | None], catalogue: Catalogue, scope: Scope
) -> Known:
    """One device with all that its file and its parts say."""
    name = node.name.text
    base = sheet_for(node.model, sheets, catalogue, scope)
    if base is None:
        return Known(node)
    model = base.model
    if node.kind.text != model.kind:
        scope.report(WrongKind(node.kind.span, name, node.model.text, node.kind.text, model.kind))
    sheet = add_entries(base, node.body.entries, f"`{node.model.text}`", catalogue, scope)
    model = sheet.model
    before = len(scope.problems)
    values, assumptions, spreads, all_known = _values(node, sheet, scope)
    common = {key: read_common(sheet.entries[key], scope) for key in COMMON if key in sheet.entries}
    accepting = [each for each in sheet.entries.values() if each.name.text in ACCEPTING]
    accepted, confirmed = read_accepting(accepting, name, scope)
    ways = _way_count(model, values)
    if not all_known or len(scope.problems) > before:
        return Known(node, model, ways)
    derived = _derived(node, sheet, values, scope)
    if derived is None:
        return Known(node, model, ways)
    for spread in spreads:
        for end in (spread.low, spread.high):
            if _derived(node, sheet, {**values, spread.parameter: end}, scope) is None:
                return Known(node, model, ways)
    priority = common.get("priority")
    device = Device(
        name,
        model.kind,
        model,
        {**values, **derived},
        frozenset(key for key in sheet.entries if key.partition(" ")[0] not in ACCEPTING),
        common.get("mass"),
        None if priority is None else int(priority),
        node.span,
        accepted,
        confirmed,
    )
    return Known(node, model, ways, device, tuple(assumptions), tuple(spreads))


def _values(
    node: DeviceNode, sheet: Sheet, scope: Scope
) -> tuple[dict[str, Any], list[Assumption], list[Spread], bool]:
    """The declared parameters by the names the law sees, the defaults and the ranges among them,
    and whether all are known. One wrong entry does not hide the others: the number of ways is
    still wanted."""
    values: dict[str, Any] = {}
    assumptions: list[Assumption] = []
    spreads: list[Spread] = []
    all_known = True
    name = node.name.text
    for parameter in sheet.model.parameters:
        entry = sheet.entries.get(parameter.name)
        if entry is not None:
            found = read_given(parameter, entry, scope)
            all_known = all_known and found is not None
            if found is not None:
                values |= found.values
                spreads += [found.spread] if found.spread is not None else []
        elif is_required(parameter):
            all_known = False
            meant = parameter.name in sheet.meant
            if not meant and not unread_in(node.body, *entry_names(parameter)):
                scope.report(
                    MissingEntry(
                        node.name.span,
                        parameter.name,
                        f"`{name}`",
                        parameter.help,
                        example_of(parameter),
                    )
                )
        else:
            unread = unread_in(node.body, *entry_names(parameter))
            all_known = all_known and parameter.name not in sheet.meant and not unread
            default = default_of(parameter)
            values |= default.values
            if default.shown:
                assumptions.append(Assumption(name, parameter.name, default.shown, default.basis))
    idle = _not_counting(sheet.model, values)
    for each, word in idle.items():
        if each in sheet.entries:
            all_known = False
            scope.report(
                ValuesDisagree(
                    sheet.entries[each].name.span,
                    each,
                    f"counts only with `{word}`",
                    f"write `{word}`, or leave it out",
                )
            )
    told = [made for made in assumptions if made.parameter not in idle]
    return values, told, spreads, all_known


def _not_counting(model: type[Model], values: Mapping[str, Any]) -> dict[str, str]:
    """Parameters that do not count with what a choice says, and what it would have to say."""
    return {
        parameter.name: " ".join(parameter.only_with)
        for parameter in model.parameters
        if isinstance(parameter, Parameter)
        and parameter.only_with is not None
        and values.get(parameter.only_with[0]) not in (parameter.only_with[1], None)
    }


def _way_count(model: type[Model], values: Mapping[str, Any]) -> int | None:
    """How many numbered terminals there are; None if their count is not known or there are none."""
    for terminal in model.terminals:
        if isinstance(terminal, Ways):
            count = values.get(terminal.count)
            return int(count) if isinstance(count, float) and math.isfinite(count) else None
    return None


def _derived(
    node: DeviceNode, sheet: Sheet, values: Mapping[str, Any], scope: Scope
) -> dict[str, float] | None:
    """What the model works out of its values; None after it refused them."""
    import numpy as np

    model = sheet.model
    try:
        with np.errstate(all="ignore"):
            derived = model.derive(values)
    except ParameterProblem as problem:
        span = _place_of(problem.parameter, node, sheet)
        scope.report(ValuesDisagree(span, problem.parameter, problem.message, problem.help))
        return None
    except Exception as error:  # a stranger's model may stumble over anything
        reason = f"{type(error).__name__}: {error}"
        scope.report(ModelFails(node.name.span, model.name, reason))
        return None
    missing = [name for name in model.derived if name not in derived]
    infinite = [name for name in derived if math.isinf(derived[name])]
    if missing or infinite:
        reason = f"it gives no {', '.join(missing)}" if missing else f"{infinite[0]} is infinite"
        scope.report(ModelFails(node.name.span, model.name, reason))
        return None
    return {name: float(derived[name]) for name in model.derived}


def _place_of(parameter: str, node: DeviceNode, sheet: Sheet) -> Span:
    """Where a parameter is written; the device's name if it is nowhere."""
    entry = sheet.entries.get(parameter)
    return entry.span if entry is not None else node.name.span
