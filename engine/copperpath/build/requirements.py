"""The `require` lines: subject found, quantity known, limit of the right dimension."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from copperpath.build.devices import Known
from copperpath.build.scope import Scope
from copperpath.build.single_values import read_bounded, read_quantity
from copperpath.build.wiring_errors import (
    LongerThanRun,
    NoSuchQuantity,
    NotALoad,
    UnknownDevice,
    UnknownQuantity,
    UnknownVerdict,
    WhichQuantity,
)
from copperpath.plugin_api import Accumulator
from copperpath.plugin_api.parameters import Dimension
from copperpath.quantities import MEANINGS, show
from copperpath.required import (
    BASE_ALONE,
    ComparisonRequirement,
    PoweredRequirement,
    Requirement,
    VerdictRequirement,
)
from copperpath_grammar.nodes import ComparisonClaim, PoweredClaim, RequireNode, VerdictClaim
from copperpath_grammar.value_nodes import Expression, Measure, Name

QUANTITIES: dict[str, Dimension] = {
    "voltage": "voltage",
    "mean_voltage": "voltage",
    "current": "current",
    "power": "power",
    "charge": "share",
    "energy": "energy",
}
STATION_WIDE: dict[str, Dimension] = {"mass": "mass"}
EXAMPLES: dict[Dimension, str] = {"voltage": "10.5 V", "share": "20 %", "mass": "6 kg"}


def build_requirement(
    node: RequireNode,
    known: Mapping[str, Known],
    lasts_s: float | None,
    scope: Scope,
    cases: tuple[str, ...] = BASE_ALONE,
) -> Requirement | None:
    """One requirement; None after a report, or if its device has mistakes of its own."""
    built = _built(node, known, lasts_s, scope)
    return None if built is None else replace(built, cases=cases)


def _built(
    node: RequireNode, known: Mapping[str, Known], lasts_s: float | None, scope: Scope
) -> Requirement | None:
    match node.claim:
        case PoweredClaim() as powered:
            return _powered(node, powered, known, lasts_s, scope)
        case ComparisonClaim() as comparison:
            return _comparison(node, comparison, known, scope)
        case VerdictClaim(word=word):
            if word.text != "holds":
                scope.report(UnknownVerdict(word.span, word.text))
                return None
            return VerdictRequirement(word.text, node.text, node.span)


def subject_of(requirement: Requirement) -> str | None:
    """The device that a requirement speaks of; None for the whole station."""
    match requirement:
        case PoweredRequirement():
            return requirement.load
        case ComparisonRequirement():
            return requirement.device
    return None


def _powered(
    node: RequireNode,
    claim: PoweredClaim,
    known: Mapping[str, Known],
    lasts_s: float | None,
    scope: Scope,
) -> PoweredRequirement | None:
    duration = None
    if claim.duration is not None:
        duration = _duration(claim.duration, lasts_s, scope)
        if duration is None:
            return None
    word = claim.subject.parts[0]
    if len(claim.subject.parts) > 1:
        scope.report(UnknownDevice(claim.subject.span, claim.subject.text, word.text))
        return None
    device = _device(word, known, scope)
    if device is None:
        return None
    if device.model is not None and device.model.kind != "load":
        scope.report(NotALoad(word.span, word.text, device.model.kind))
        return None
    return PoweredRequirement(word.text, duration, node.text, node.span)


def _duration(value: Expression, lasts_s: float | None, scope: Scope) -> float | None:
    duration = read_bounded(
        value,
        "time",
        "powered for",
        scope,
        low=0.0,
        low_allowed=False,
        reason="it is a time from the start",
        example="48 h",
        unit="h",
    )
    if duration is not None and lasts_s is not None and duration > lasts_s * (1.0 + 1e-9):
        scope.report(LongerThanRun(value.span, value.span.text, show(lasts_s, "time")))
        return None
    return duration


def _comparison(
    node: RequireNode, claim: ComparisonClaim, known: Mapping[str, Known], scope: Scope
) -> ComparisonRequirement | None:
    parts = claim.subject.parts
    first = parts[0]
    if len(parts) == 1:
        if first.text in STATION_WIDE and first.text not in known:
            return _limited(node, claim, None, first.text, STATION_WIDE[first.text], scope)
        if first.text in known:
            _which_quantity(claim, known[first.text], scope)
        else:
            near = scope.near(first.text, [*STATION_WIDE, *known])
            scope.report(UnknownQuantity(first.span, first.text, near, tuple(QUANTITIES)))
        return None
    device = _device(first, known, scope)
    quantity = parts[1]
    if len(parts) > 2 or quantity.text not in QUANTITIES:
        last = parts[-1]
        near = scope.near(last.text, QUANTITIES)
        scope.report(UnknownQuantity(last.span, claim.subject.text, near, tuple(QUANTITIES)))
        return None
    if device is None or not _records(device, quantity, scope):
        return None
    return _limited(node, claim, first.text, quantity.text, QUANTITIES[quantity.text], scope)


def _limited(
    node: RequireNode,
    claim: ComparisonClaim,
    device: str | None,
    quantity: str,
    dimension: Dimension,
    scope: Scope,
) -> ComparisonRequirement | None:
    name = f"{claim.subject.text} {claim.operator}"
    example = EXAMPLES.get(dimension, "")
    limit = read_quantity(claim.limit, dimension, name, scope, example)
    if limit is None:
        return None
    unit = claim.limit.unit if isinstance(claim.limit, Measure) else MEANINGS[dimension].unit
    return ComparisonRequirement(
        device, quantity, claim.operator, limit, unit, node.text, node.span
    )


def _device(word: Name, known: Mapping[str, Known], scope: Scope) -> Known | None:
    device = known.get(word.text)
    if device is None and not scope.may_be_unread(word.text):
        scope.report(UnknownDevice(word.span, word.text, scope.near(word.text, known)))
    return device


def _which_quantity(claim: ComparisonClaim, device: Known, scope: Scope) -> None:
    name = claim.subject.text
    stores = device.model is not None and device.model.kind == "storage"
    quantity = "charge" if stores else "voltage"
    example = f"require {name}.{quantity} {claim.operator} {'20 %' if stores else '10.5 V'}"
    scope.report(WhichQuantity(claim.subject.span, name, example))


def _records(device: Known, quantity: Name, scope: Scope) -> bool:
    """False, after a report, if a run records no such quantity for this kind of device."""
    if device.model is None or quantity.text != "charge":
        return True
    if any(isinstance(s, Accumulator) and s.carries_charge for s in device.model.states):
        return True
    name = device.node.name.text
    scope.report(NoSuchQuantity(quantity.span, name, "charge", "it stores nothing"))
    return False
