"""How rules are asked, with rules made up for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from support.building import SITE, station_of

from copperpath.inquiry.budget import Budget, SpentError
from copperpath.inquiry.inquiry import StationInquiry
from copperpath.inquiry.judge import RuleFailedError, judge, shown
from copperpath.plugin_api import Inquiry, Reading, Remedy, Rule, SetWire
from copperpath_grammar.diagnostics import Level

TEXT = (
    SITE
    + """storage pack : lfp { cells 4; capacity 20 Ah }
load rig : transceiver { receive 0.4 A; transmit 6 A; transmitting 10 % }
load lamp : steady { power 5 W }
cable pack -> rig { length 2 m; wire 1.5 mm2; fuse 10 A at pack }
cable pack -> lamp { length 2 m; wire 4 mm2; fuse 3 A at pack }
"""
)


class Thin(Rule):
    """Finds every cable below 4 mm²."""

    interface = 1
    name = "thin"
    summary = "no cable is below 4 mm2"
    why = "made up"
    levels = ("warn",)
    size = "4 mm2"

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for cable in inquiry.cables:
            area = 1e6 * (cable.area_m2 or 0.0)
            thin = area < 4.0 - 1e-6
            message = f"`{cable.name}` has {area:g} mm2" if thin else ""
            yield Reading(cable.name, "warn" if thin else None, message, area, 4.0, "mm2")

    @classmethod
    def mend(cls, inquiry: Inquiry, reading: Reading) -> Remedy | None:
        return Remedy(f"take {cls.size}", (SetWire(reading.subject, cls.size),))


class Asks(Rule):
    """A question of a checklist."""

    interface = 1
    name = "asks"
    summary = "a question"
    why = "made up"
    levels = ("note",)
    asks = "are you sure"

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        if not inquiry.confirmed("are you sure", "pack"):
            yield Reading("pack", "note", "nobody is sure", open=True)


def with_entry(device: str, entry: str) -> str:
    return TEXT.replace(f"{device} {{", f"{device} {{ {entry};", 1)


def found(text: str, *rules: type[Rule]) -> list[tuple[str, str]]:
    return [(each.rule, each.subject) for each in judge(station_of(text), rules)]


def test_what_is_in_order_is_no_finding() -> None:
    assert found(TEXT, Thin) == [("thin", "pack -> rig")]


def test_a_finding_has_its_figures_its_place_and_where_its_limit_comes_from() -> None:
    (finding,) = judge(station_of(TEXT), [Thin])
    assert (finding.value, finding.limit, finding.unit) == (1.5, 4.0, "mm2")
    assert finding.span is not None
    assert finding.limit_from == "common practice, no source"


def test_what_a_remedy_yields_is_what_the_rule_reads_with_the_edit_made() -> None:
    (finding,) = judge(station_of(TEXT), [Thin])
    assert finding.yields == "4.00 mm2, limit 4.00 mm2"


def test_a_remedy_that_is_not_enough_says_so() -> None:
    class Half(Thin):
        size = "2.5 mm2"

    (finding,) = judge(station_of(TEXT), [Half])
    assert finding.yields == "2.50 mm2, limit 4.00 mm2; not enough by itself"


def test_without_remedies_none_is_looked_for() -> None:
    (finding,) = judge(station_of(TEXT), [Thin], remedies=False)
    assert (finding.remedy, finding.yields) == ("", "")


def test_the_worst_findings_come_first() -> None:
    assert [each.level for each in judge(station_of(TEXT), [Asks, Thin])] == [
        Level.WARN,
        Level.NOTE,
    ]


def test_progress_is_told_each_rule() -> None:
    told: list[str] = []
    judge(station_of(TEXT), [Asks, Thin], told.append)
    assert told == ["asks", "thin"]


def test_an_accepted_finding_keeps_its_level_and_has_the_reason() -> None:
    text = TEXT.replace("wire 1.5 mm2;", 'wire 1.5 mm2; accept "low-power", "it is short";')

    class Low(Thin):
        name = "low-power"

    (finding,) = judge(station_of(text), [Low])
    assert finding.level is Level.WARN
    assert finding.accepted == "it is short"


def test_a_finding_accepted_for_another_subject_stands() -> None:
    class Low(Thin):
        name = "low-power"

    text = TEXT.replace("wire 4 mm2;", 'wire 4 mm2; accept "low-power", "why not";')
    told = judge(station_of(text), [Low])
    assert [(each.rule, each.accepted) for each in told] == [
        ("low-power", ""),
        ("accepted-nothing", ""),
    ]
    assert "but finds nothing there" in told[1].message


def test_a_confirmed_question_is_not_asked() -> None:
    text = TEXT.replace("cells 4;", 'cells 4; confirm "are you sure", "yes";')
    assert found(text, Asks) == []


def test_an_answer_that_nobody_asks_for_is_said() -> None:
    text = TEXT.replace("cells 4;", 'cells 4; confirm "are we sure", "yes";')
    told = judge(station_of(text), [Asks])
    assert [each.rule for each in told] == ["confirmed-nothing", "asks"]
    assert '"are you sure"' in told[0].message


def test_a_rule_that_goes_wrong_is_named() -> None:
    class Broken(Thin):
        name = "broken"

        @staticmethod
        def judge(inquiry: Inquiry) -> Iterator[Reading]:
            yield Reading("pack", None)
            raise ZeroDivisionError("by its own fault")

    with pytest.raises(RuleFailedError, match=r"rule `broken` .* by its own fault"):
        judge(station_of(TEXT), [Broken])


def test_a_rule_whose_remedy_goes_wrong_is_named() -> None:
    class Broken(Thin):
        name = "broken"

        @classmethod
        def mend(cls, inquiry: Inquiry, reading: Reading) -> Remedy | None:
            return Remedy("another cable", (SetWire("no such cable", "4 mm2"),))

    with pytest.raises(RuleFailedError, match=r"rule `broken` .* KeyError"):
        judge(station_of(TEXT), [Broken])


def test_a_level_that_a_rule_does_not_declare_is_refused() -> None:
    class Loud(Thin):
        name = "loud"
        levels = ("note",)

    with pytest.raises(RuleFailedError, match="'warn', which it does not declare"):
        judge(station_of(TEXT), [Loud])


def test_a_budget_that_is_spent_solves_nothing_again_but_the_station_itself() -> None:
    inquiry = StationInquiry(station_of(TEXT), budget=Budget(0.0))
    assert inquiry.low.found
    with pytest.raises(SpentError):
        _ = inquiry.edited(SetWire("pack -> rig", "4 mm2")).low


@pytest.mark.parametrize(
    ("value", "words"),
    [(0.0, "0"), (0.0123, "0.0123"), (1.234, "1.23"), (23.45, "23.4"), (123.4, "123")],
)
def test_figures_are_shown_with_the_digits_that_count(value: Any, words: str) -> None:
    assert shown(value) == words
