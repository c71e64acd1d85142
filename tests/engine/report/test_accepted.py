"""What the author lets stand is told in every output, with the reason."""

from __future__ import annotations

import json

from support.building import station_of

from copperpath.pipeline import run
from copperpath.report.json import run_json
from copperpath.report.run_screen import run_screen

TEXT = """
station "One radio" {
    place  47.4 N, 9.35 E, 600 m
    starts 2026-05-15 06:00 +02:00
    lasts  2 h
    sky    clear
    air    6 degC .. 18 degC
    confirm "lightning", "the antenna comes down"
    accept  "line-drop", "half power is enough"
}
storage pack : lfp { capacity 12 Ah; accept "locked-out", "somebody is there" }
load rig : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 %; works 10.5 V .. 15 V }
cable pack -> rig { length 1 m; wire 1.5 mm2; fuse 5 A at pack within 100 mm }
"""


def test_a_run_tells_what_the_author_lets_stand_and_why() -> None:
    screen = run_screen(run(station_of(TEXT), step_s=600.0, executor="twin"))
    assert "line-drop: half power is enough (line 9)" in screen
    assert "locked-out at `pack`: somebody is there (line 11)" in screen


def test_so_does_its_json() -> None:
    document = json.loads(run_json(run(station_of(TEXT), step_s=600.0, executor="twin")))
    told = [(each["rule"], each["subject"], each["reason"]) for each in document["accepted"]]
    assert told == [
        ("line-drop", "", "half power is enough"),
        ("locked-out", "pack", "somebody is there"),
    ]
    assert [each["question"] for each in document["confirmed"]] == ["lightning"]
