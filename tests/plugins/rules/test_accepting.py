"""What an author accepts and answers without need is said; an answer is not called idle where no
rule was asked."""

from __future__ import annotations

from support.building import CABLE, DEVICES, SITE, station_of
from support.gallery import found_in_station, rules

from copperpath.inquiry.judge import judge


def answered(question: str) -> str:
    site = SITE.replace("    sky clear\n", f'    sky clear\n    confirm "{question}", "yes"\n')
    return site + DEVICES + CABLE


def test_an_answer_to_a_question_that_no_rule_asks_is_said_with_those_that_are_asked() -> None:
    station = station_of(answered("thunder"))
    found = [each for each in found_in_station(station) if each.rule == "confirmed-nothing"]
    assert [each.message.count('"lightning"') for each in found] == [1]


def test_an_answer_in_its_place_leaves_no_question_open() -> None:
    station = station_of(answered("lightning"))
    names = {each.rule for each in found_in_station(station)}
    assert names & {"lightning", "confirmed-nothing"} == set()


def test_where_no_rule_is_asked_an_answer_is_not_called_idle() -> None:
    station = station_of(answered("lightning"))
    assert judge(station, ()) == ()


def test_what_is_accepted_where_nothing_is_found_is_said() -> None:
    devices = DEVICES.replace("capacity 12 Ah", 'capacity 12 Ah; accept "cold-battery", "warm"')
    found = found_in_station(station_of(SITE + devices + CABLE))
    assert [each.subject for each in found if each.rule == "accepted-nothing"] == ["pack"]


def test_what_is_accepted_stays_among_the_findings_with_its_reason() -> None:
    devices = DEVICES.replace("capacity 12 Ah", 'capacity 12 Ah; accept "locked-out", "attended"')
    found = judge(station_of(SITE + devices + CABLE), (rules()["locked-out"],))
    assert [(each.rule, each.accepted) for each in found] == [("locked-out", "attended")]
