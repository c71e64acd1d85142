"""`accept` and `confirm` are kept with what they speak of, wherever they may stand."""

from __future__ import annotations

from support.building import CABLE, DEVICES, SITE, codes_of, station_of

STAND = 'accept "locked-out", "somebody is there"'


def told(text: str) -> list[tuple[str, str, str]]:
    """Rule, subject and reason of all that a good text accepts."""
    return [(each.rule, each.subject, each.reason) for each in station_of(text).accepted]


def test_in_the_station_block_it_speaks_of_all() -> None:
    text = SITE.replace("lasts 72 h", f"lasts 72 h; {STAND}") + DEVICES + CABLE
    assert told(text) == [("locked-out", "", "somebody is there")]


def test_in_a_device_it_speaks_of_that_device() -> None:
    text = SITE + DEVICES.replace("12 Ah", f"12 Ah; {STAND}") + CABLE
    assert told(text) == [("locked-out", "pack", "somebody is there")]


def test_in_a_part_it_speaks_of_every_device_of_it() -> None:
    part = f"part cell : lfp {{ capacity 12 Ah; {STAND} }}\n"
    devices = DEVICES.replace("pack : lfp { capacity 12 Ah }", "pack : cell {}")
    more = "storage spare : cell {}\n" + CABLE.replace("pack", "spare")
    subjects = [subject for _, subject, _ in told(SITE + part + devices + CABLE + more)]
    assert subjects == ["pack", "spare"]


def test_a_device_may_give_another_reason_than_its_part() -> None:
    part = f"part cell : lfp {{ capacity 12 Ah; {STAND} }}\n"
    body = 'pack : cell { accept "locked-out", "it is summer" }'
    text = SITE + part + DEVICES.replace("pack : lfp { capacity 12 Ah }", body) + CABLE
    assert told(text) == [("locked-out", "pack", "it is summer")]


def test_in_a_cable_it_speaks_of_that_cable() -> None:
    text = SITE + DEVICES + CABLE.replace("fuse", 'accept "line-drop", "half power"; fuse')
    assert told(text) == [("line-drop", "pack -> rig", "half power")]


def test_several_rules_may_be_accepted_in_one_body() -> None:
    both = f'{STAND}; accept "mass-and-flight", "by car"'
    text = SITE + DEVICES.replace("12 Ah", f"12 Ah; {both}") + CABLE
    assert [rule for rule, _, _ in told(text)] == ["locked-out", "mass-and-flight"]


def test_an_answer_is_kept_with_its_question_and_its_device() -> None:
    text = SITE + DEVICES.replace("12 Ah", '12 Ah; confirm "leads-choked", "two beads"') + CABLE
    (answer,) = station_of(text).confirmed
    assert (answer.question, answer.subject, answer.answer) == (
        "leads-choked",
        "pack",
        "two beads",
    )


def test_an_empty_reason_is_a_mistake() -> None:
    text = SITE + DEVICES.replace("12 Ah", '12 Ah; accept "locked-out", " "') + CABLE
    assert codes_of(text) == ["build/wrong-form"]


def test_an_unknown_rule_is_a_mistake_also_in_a_part_that_no_device_uses() -> None:
    part = 'part cell : lfp { capacity 12 Ah; accept "locked-in", "somebody is there" }\n'
    assert codes_of(SITE + part + DEVICES + CABLE) == ["build/unknown-word"]
