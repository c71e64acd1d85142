"""The commands on whole stations, as a person would use them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code
from copperpath.report.layout import cells_of

STATIONS = Path(__file__).parents[3] / "docs" / "stations"
SPUR = STATIONS / "larkfell_spur" / "larkfell_spur.station"

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
UNFUSED = FED.replace("; fuse 5 A at pack", "")
LAMP = """
from copperpath.plugin_api import Hours, Model, Parameter, Terminal, Window


class Glow(Model):
    interface = 1
    name = "glow"
    kind = "load"
    summary = "a glowing wire"
    parameters = (
        Parameter("warm", "resistance", "its resistance", required=True, example="24 ohm"),
        Window("works", "voltage", "where it glows", default=(9.0, 15.0), basis="invented"),
        Hours("on", "when it glows"),
    )
    terminals = (Terminal("line", "its supply", main=True),)
    drives = ("wanted",)
    powered = ("line", "works_low")
    demand = "wanted"

    @staticmethod
    def drive(site, p):
        return {"wanted": site.schedule(p["on"])}

    @staticmethod
    def law(v, x, d, p):
        return (d.wanted * v.line / p.warm,)
"""


def written(text: str, folder: Path) -> str:
    """The path of a station file with this text."""
    file = folder / "my.station"
    file.write_text(text, encoding="utf-8")
    return str(file)


def test_check_names_a_cable_whose_data_are_not_known_yet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    unknown = FED.replace("length 1 m; wire 1.5 mm2; ", "")
    assert exit_code(["check", written(unknown, tmp_path)]) == 0
    words = " ".join(capsys.readouterr().out.split())
    assert "`pack -> rig` has no length and no wire size, so its drop is not counted" in words
    assert "length and wire not given for `pack -> rig`; 100 µΩ taken" in words
    assert "without pack, rig, pack -> rig (no mass given)" in words


def test_run_solves_a_cable_whose_data_are_not_known_yet_and_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["run", written(FED.replace("wire 1.5 mm2; ", ""), tmp_path)]) == 0
    out = capsys.readouterr().out
    assert "pack -> rig  not given" in out
    assert "`pack -> rig` has no wire size" in out


def test_a_station_that_lasts_exits_0(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["run", written(FED, tmp_path)]) == 0
    out = capsys.readouterr().out
    assert out.splitlines()[3].startswith(("LASTS", "HOLDS"))


def test_a_station_that_runs_down_exits_1_and_says_when(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert exit_code(["run", str(SPUR)]) == 1
    assert "RUNS DOWN on Mon 30 March" in capsys.readouterr().out.splitlines()[3]


def test_a_requirement_that_is_not_met_exits_1(tmp_path: Path) -> None:
    assert exit_code(["run", written(FED + "require rig.voltage >= 13.5 V\n", tmp_path)]) == 1


def test_a_dangerous_finding_exits_1_from_check_and_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = written(UNFUSED, tmp_path)
    assert exit_code(["check", file]) == 1
    assert "  DANGER  " in capsys.readouterr().out
    assert exit_code(["run", file]) == 1
    assert "  DANGER  " in capsys.readouterr().out


def test_a_good_station_passes_check(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answered = FED.replace(
        'station "One radio on a full battery" {',
        'station "One radio on a full battery" {\n'
        '    confirm "lightning", "the antenna comes down and we leave"\n'
        '    confirm "holders-tested", "each fuse pulled, 0 V behind it"\n'
        '    accept  "locked-out", "somebody is there all day"\n'
        '    accept  "mass-and-flight", "it goes by car"\n',
    )
    near = answered.replace("fuse 5 A at pack", "fuse 5 A at pack within 100 mm")
    assert near != answered
    assert exit_code(["check", written(near, tmp_path)]) == 0
    assert "no finding stands" in capsys.readouterr().out


@pytest.mark.parametrize("command", ["check", "run"])
def test_a_mistake_in_the_file_exits_2_with_its_line_and_remedy(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = written(FED.replace("transmit 2 A", "trasmit 2 A"), tmp_path)
    assert exit_code([command, file]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "my.station" in err
    assert "`transmit`" in err
    assert "nothing was run" in err


def test_mistakes_come_as_json_where_json_is_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = written(FED.replace("12 Ah", "12 A"), tmp_path)
    assert exit_code(["run", file, "--json"]) == 2
    tree = json.loads(capsys.readouterr().out)
    assert tree["schema"] == "copperpath.check/1"
    assert tree["errors"][0]["line"] == 9


def test_the_run_as_json_names_every_device(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["run", written(FED, tmp_path), "--json"]) == 0
    tree = json.loads(capsys.readouterr().out)
    assert tree["schema"] == "copperpath.run/1"
    assert set(tree["cases"][0]["devices"]) == {"pack", "rig"}


@pytest.mark.parametrize("name", ["out.csv", "out.parquet"])
def test_the_series_has_a_row_for_each_step(name: str, tmp_path: Path) -> None:
    import pandas

    series = tmp_path / name
    run = ["run", written(FED, tmp_path), "--step", "5min", "--series", str(series)]
    assert exit_code(run) == 0
    frame = pandas.read_csv(series) if name.endswith("csv") else pandas.read_parquet(series)
    assert len(frame) == 6 * 12
    assert "rig.voltage [V]" in frame.columns


@pytest.mark.parametrize("file", sorted(STATIONS.rglob("*.station")), ids=lambda file: file.stem)
def test_every_screen_of_the_examples_fits_80_columns(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for command in ("check", "run"):
        assert exit_code([command, str(file)]) in (0, 1)
        out, err = capsys.readouterr()
        assert max(cells_of(line) for line in out.splitlines()) <= 80
        assert "Traceback" not in err


def test_a_model_from_a_named_file_can_be_used(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plugin = tmp_path / "glow.py"
    plugin.write_text(LAMP, encoding="utf-8")
    station = FED + (
        "load wire : glow { warm 24 ohm }\n"
        "cable pack -> wire { length 1 m; wire 1.5 mm2; fuse 3 A at pack }\n"
    )
    assert exit_code(["run", written(station, tmp_path), "--plugin", str(plugin)]) == 0
    assert "\n  wire " in capsys.readouterr().out


def test_a_named_model_of_another_version_is_told_at_the_device_that_loses_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plugin = tmp_path / "glow.py"
    plugin.write_text(LAMP.replace("interface = 1", "interface = 2"), encoding="utf-8")
    station = FED + "load ember : glow { warm 24 ohm }\ncable pack -> ember { length 1 m }\n"
    assert exit_code(["check", written(station, tmp_path), "--plugin", str(plugin)]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "load ember : glow" in told
    assert "was written for version 2 of the plugin interface" in told
    assert "`ember` has no model" in told
    assert "there is no model" not in told
