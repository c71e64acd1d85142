"""What a cable's entries say beyond its resistance: its fuses' kind and limits, insulation, and
how it lies. Each may be missing, and a missing one stays missing: nothing is taken instead.
"""

from __future__ import annotations

from collections.abc import Mapping

from copperpath.build.build_errors import ValuesDisagree, WrongForm
from copperpath.build.scope import Scope
from copperpath.build.single_values import only_value, read_bounded
from copperpath.build.value_errors import UnknownWord
from copperpath.plugin_api.parameters import Dimension
from copperpath.station import CableFacts
from copperpath_grammar.value_nodes import Entry, Reference

FUSE_KINDS = ("blade", "bolt_down", "class_t", "glass", "ceramic", "breaker", "other")
FUSE_POLES = ("positive", "both")
FUSE_FACTS = ("fuse_kind", "fuse_interrupts", "fuse_voltage", "fuse_poles")
FACTS = (*FUSE_FACTS, "insulation", "bundled", "sheathed", "copper_clad")


def read_facts(by_name: Mapping[str, Entry], scope: Scope) -> CableFacts:
    """The facts among a cable's entries; what is wrong is reported and left out."""
    if "fuse" not in by_name:
        for name in FUSE_FACTS:
            if name in by_name:
                _report_no_fuse(by_name[name], scope)
    bundled = _number(
        by_name.get("bundled"),
        "number",
        "how many cables lie together, this one counted",
        "4",
        scope,
        low=1.0,
        high=500.0,
        reason="it counts the cables that lie together, this one too",
        whole=True,
    )
    return CableFacts(
        fuse_kind=_word(by_name.get("fuse_kind"), FUSE_KINDS, "a kind of fuse", scope),
        fuse_interrupts_a=_number(
            by_name.get("fuse_interrupts"),
            "current",
            "the most current that the fuse can break, as printed on it",
            "1 kA",
            scope,
            low=1.0,
            high=300e3,
            reason="fuses break between 1 A and 300 kA",
        ),
        fuse_voltage_v=_number(
            by_name.get("fuse_voltage"),
            "voltage",
            "the highest voltage that the fuse can break, as printed on it",
            "32 V",
            scope,
            low=1.0,
            high=2000.0,
            reason="fuses are made for between 1 V and 2000 V",
        ),
        fuse_poles=_word(by_name.get("fuse_poles"), FUSE_POLES, "which poles it is in", scope),
        insulation_k=_number(
            by_name.get("insulation"),
            "temperature",
            "the temperature of the copper that its insulation stands, as printed on it",
            "105 degC",
            scope,
            low=313.15,
            high=573.15,
            reason="insulations stand between 40 degC and 300 degC",
        ),
        bundled=None if bundled is None else int(bundled),
        sheathed=read_flag(by_name.get("sheathed"), scope),
        copper_clad=read_flag(by_name.get("copper_clad"), scope),
    )


def read_flag(entry: Entry | None, scope: Scope) -> bool:
    """True if a bare word stands there."""
    if entry is not None and entry.parts:
        scope.report(WrongForm(entry.span, entry.name.text, "no value", entry.name.text))
    return entry is not None


def _report_no_fuse(entry: Entry, scope: Scope) -> None:
    name = entry.name.text
    reason = "says something of a fuse, but there is none in this cable"
    advice = "add the fuse with its place, `fuse 10 A at pack`, or take this out"
    scope.report(ValuesDisagree(entry.name.span, name, reason, advice))


def _number(
    entry: Entry | None,
    dimension: Dimension,
    takes: str,
    example: str,
    scope: Scope,
    *,
    low: float,
    high: float,
    reason: str,
    whole: bool = False,
) -> float | None:
    if entry is None:
        return None
    name, value = entry.name.text, only_value(entry)
    if value is None:
        scope.report(WrongForm(entry.span, name, takes, f"{name} {example}"))
        return None
    unit = example.partition(" ")[2].replace("kA", "A")
    return read_bounded(
        value,
        dimension,
        name,
        scope,
        low=low,
        high=high,
        reason=reason,
        example=example,
        unit=unit,
        whole=whole,
    )


def _word(entry: Entry | None, words: tuple[str, ...], takes: str, scope: Scope) -> str | None:
    if entry is None:
        return None
    name, value = entry.name.text, only_value(entry)
    if not isinstance(value, Reference):
        scope.report(WrongForm(entry.span, name, takes, f"{name} {words[0]}"))
        return None
    if value.text not in words:
        near = scope.near(value.text, words)
        scope.report(UnknownWord(value.span, name, value.text, near, words))
        return None
    return value.text
