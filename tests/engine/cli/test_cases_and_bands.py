"""Cases, uncertain values, bonds and leads at the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code
from copperpath.report.layout import cells_of

FED = """
station "One radio on a full battery" {
    place 47.4 N, 9.35 E
    starts 2026-05-15 06:00 +02:00
    lasts 6 h
    sky clear
    air 6 degC .. 18 degC
}
storage pack : lfp { capacity 12 Ah }
load rig : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 %; works 10.5 V .. 15 V }
cable pack -> rig { length 1 m; wire 1.5 mm2; fuse 5 A at pack }
"""
HUNGRY = 'case "a hungry guest" { change rig { transmit 6 A; transmitting 90 % } }\n'
LONGER = 'case "longer" { lasts 8 h }\n'
RELAY = """load relay : transceiver { receive 0.3 A; transmit 2 A; transmitting 10 % }
cable pack -> relay { length 1 m; wire 1.5 mm2; fuse 5 A at pack }
never together rig, relay
bond rig to chassis
data rig -> relay { kind serial; length 1.5 m }
"""


class Call:
    """A command on a station text: its exit code, and what it printed."""

    def __init__(self, file: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.file, self.capsys = file, capsys
        self.out = self.err = ""

    def __call__(self, command: str, text: str, *options: str) -> int:
        self.file.write_text(text, encoding="utf-8")
        code = exit_code([command, str(self.file), *options])
        self.out, self.err = self.capsys.readouterr()
        return code

    @property
    def flat(self) -> str:
        return " ".join(self.out.split())


@pytest.fixture
def call(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Call:
    return Call(tmp_path / "my.station", capsys)


def test_a_case_that_runs_down_unasked_exits_0(call: Call) -> None:
    assert call("run", FED + HUNGRY) == 0
    assert "Cases (1)" in call.out
    assert any(line.split()[:5] == ["a", "hungry", "guest", "RUNS", "DOWN"] for line in lines(call))


def lines(call: Call) -> list[str]:
    return call.out.splitlines()


def test_a_requirement_that_a_case_does_not_meet_exits_1(call: Call) -> None:
    assert call("run", FED + HUNGRY + "require rig powered throughout in every case\n") == 1
    assert 'in case "a hungry guest", the worst of 2' in call.flat
    assert call("run", FED + HUNGRY + "require rig powered throughout\n") == 0


def test_a_danger_in_a_case_exits_1(call: Call) -> None:
    high = 'case "wrong radio" { change rig { works 9 V .. 12 V } }\n'
    assert call("run", FED + high) == 1
    assert "DANGER too-many-volts" in call.out


def test_a_case_is_shown_in_full_by_its_title(call: Call) -> None:
    assert call("run", FED + HUNGRY + LONGER, "--case", "longer") == 0
    assert 'case "longer": lasts 8 h' in call.out
    assert ", 8 h, " in call.out
    assert "Cases (" not in call.out


def test_a_title_that_no_case_has_is_answered_with_the_nearest(call: Call) -> None:
    assert call("run", FED + LONGER, "--case", "longr") == 2
    assert 'there is no case "longr"; did you mean "longer"?' in call.err
    assert '"base", "longer"' in call.err


def test_the_series_is_that_of_the_case_that_is_shown(call: Call, tmp_path: Path) -> None:
    file = tmp_path / "out.csv"
    assert call("run", FED + LONGER, "--case", "longer", "--series", str(file)) == 0
    assert len(file.read_text(encoding="utf-8").splitlines()) == 1 + 8 * 60
    assert call("run", FED + LONGER, "--series", str(file)) == 0
    assert len(file.read_text(encoding="utf-8").splitlines()) == 1 + 6 * 60


def test_json_has_every_case_and_the_worst_of_each_requirement(call: Call) -> None:
    text = FED + HUNGRY + LONGER + "require rig powered throughout in every case\n"
    assert call("run", text, "--json") == 1
    tree = json.loads(call.out)
    assert [case["name"] for case in tree["cases"]] == ["base", "a hungry guest", "longer"]
    assert tree["cases"][2]["site"]["lasts_s"] == 8 * 3600.0
    assert tree["cases"][1]["changes"] == ["change rig { transmit 6 A; transmitting 90 % }"]
    (asked,) = tree["requirements"]
    assert (asked["met"], asked["case"]) == (False, "a hungry guest")
    assert asked["missed"] == ["a hungry guest"]
    assert asked["at_unfavourable_end"] is None
    assert tree["band"] is None


def test_json_has_the_band_of_uncertain_values(call: Call) -> None:
    text = FED.replace("2 A; transmitting 10 %", "3 A; transmitting 5 .. 95 %")
    assert call("run", text + "require rig powered throughout\n", "--json") == 0
    tree = json.loads(call.out)
    assert tree["band"]["runs"] == 5
    assert tree["band"]["low"]["word"] == "runs down"
    assert tree["band"]["high"]["word"] == "lasts"
    (value,) = tree["band"]["values"]
    assert value["text"] == "transmitting 5 .. 95 %"
    assert value["unfavourable"] == "high"
    assert tree["requirements"][0]["at_unfavourable_end"]["met"] is False


def test_a_requirement_missed_at_the_unfavourable_end_alone_exits_0(call: Call) -> None:
    text = FED.replace("transmitting 10 %", "transmitting 5 .. 95 %")
    assert call("run", text + "require pack.charge >= 20 %\n") == 0
    assert "1 of 1 met, 1 of them not at the unfavourable end" in call.flat
    assert "NOT MET at the unfavourable end" in call.flat


@pytest.mark.parametrize("command", ["run", "check"])
def test_bonds_leads_and_groups_are_in_json(call: Call, command: str) -> None:
    call(command, FED + RELAY, "--json")
    tree = json.loads(call.out)
    assert tree["never_together"] == [["rig", "relay"]]
    file = str(call.file)
    assert tree["bonds"] == [
        {"from": "rig", "to": "chassis", "place": True, "file": file, "line": 15}
    ]
    (lead,) = tree["data_leads"]
    assert (lead["kind"], lead["isolated"], lead["length_m"]) == ("serial", False, 1.5)


def test_check_shows_bonds_leads_groups_and_cases(call: Call) -> None:
    assert call("check", FED + RELAY + LONGER) == 0
    assert "bond: rig to chassis" in call.out
    assert "data lead: rig -> relay (serial, not isolated, 1.5 m)" in call.out
    assert "never keyed together: rig, relay" in call.out
    assert 'case "longer": lasts 8 h' in call.out


def test_the_screen_says_which_radios_are_keyed_in_the_low_corner(call: Call) -> None:
    call("run", FED + RELAY)
    assert "low: every radio keyed (of those never together one)" in call.flat
    call("run", FED)
    assert "low: every radio keyed, lowest planned charge" in call.out


def test_a_case_shown_in_full_says_why_it_runs_down(call: Call) -> None:
    call("run", FED + HUNGRY, "--case", "a hungry guest")
    assert "What would mend it" in call.out


def test_the_step_must_divide_every_case(call: Call) -> None:
    assert call("run", FED + 'case "odd" { lasts 61 min }\n', "--step", "5min") == 2
    assert "no whole number of steps" in call.err


def test_everything_fits_eighty_columns(call: Call) -> None:
    long = f'case "{"a very long title of a case, " * 5}" {{ change rig {{ transmit 6 A }} }}\n'
    uncertain = FED.replace("transmitting 10 %", "transmitting 5 .. 85 %")
    text = uncertain + RELAY + long + "require rig powered throughout in every case\n"
    for command in ("run", "check"):
        call(command, text)
        assert max(cells_of(line) for line in lines(call)) <= 80


def test_cases_that_run_down_are_named_under_the_verdict(call: Call) -> None:
    call("run", FED + HUNGRY + LONGER)
    verdict = call.out.split("\n\n")[1]
    assert '1 of 2 cases below does not hold or last: "a hungry guest"' in " ".join(verdict.split())


def test_cases_that_last_are_not_named_under_the_verdict(call: Call) -> None:
    call("run", FED + LONGER)
    assert "cases below" not in call.out


def test_a_requirement_missed_in_several_cases_says_in_how_many(call: Call) -> None:
    text = FED + HUNGRY + HUNGRY.replace("a hungry", "another hungry")
    call("run", text + "require rig powered throughout in every case\n")
    assert "the worst; not met in 2 of 3" in call.flat


def test_a_controller_that_only_draws_says_so(call: Call) -> None:
    dark = """converter regulator : mppt_charger { output_limit 5 A; max_input 30 V }
cable regulator.battery -> pack { length 1 m; wire 2.5 mm2; fuse 10 A at pack }
source panel : photovoltaic { power 28 W; vmp 17.6 V; voc 21.4 V; isc 1.75 A; mount flat }
cable panel -> regulator.panel { length 5 m; wire 1.5 mm2 }
case "broken" { without panel }
"""
    call("run", FED + dark, "--case", "broken")
    assert "below 0 Wh: it drew that for itself" in call.out
    call("run", FED + dark)
    assert "below 0 Wh" not in call.out
