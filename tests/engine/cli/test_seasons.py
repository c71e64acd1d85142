"""`copperpath seasons` at the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from copperpath.cli.main import exit_code
from copperpath.report.layout import cells_of

HUT = """
station "A hut" {
    place      46.6 N, 10.3 E, 1800 m
    starts     2026-11-20 00:00 +01:00
    lasts      6 days
    sky        50 % of clear
    rime       30 %
    air        -3 degC .. 3 degC
}
storage pack : lead_acid { capacity 60 Ah }
load    lamp : steady    { current CURRENT; works 11 V .. 15 V }
cable pack -> lamp { length 1 m; wire 1.5 mm2 }
case "brighter" { change lamp { current 2 A } }
"""


@pytest.fixture
def hut(tmp_path: Path) -> Path:
    return written(tmp_path, "0.1 A")


def written(folder: Path, current: str) -> Path:
    file = folder / "hut.station"
    file.write_text(HUT.replace("CURRENT", current), encoding="utf-8")
    return file


def test_a_station_that_lasts_in_every_season_exits_0(
    hut: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """14.4 Ah of 60 are drawn, whatever the weather."""
    assert exit_code(["seasons", str(hut), "--count", "5"]) == 0
    out = capsys.readouterr().out
    assert out.startswith(
        "A hut: 5 seasons of 6 days\n  LASTS in 5 of 5 (100.0 %, 56.6 to 100.0 %)"
    )
    assert "In no season is a load short" in out


def test_a_station_that_runs_down_exits_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["seasons", str(written(tmp_path, "2 A")), "--count", "5"]) == 1
    out = capsys.readouterr().out
    assert "LASTS in 0 of 5" in out
    assert "November" in out


def test_the_screen_fits_80_columns(hut: Path, capsys: pytest.CaptureFixture[str]) -> None:
    exit_code(["seasons", str(hut), "--count", "3", "--case", "brighter"])
    out = capsys.readouterr().out
    assert 'case "brighter"' in out
    assert all(cells_of(line) <= 80 for line in out.splitlines())


def test_json_tells_every_season_and_how_it_was_obtained(
    hut: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    exit_code(["seasons", str(hut), "--count", "3", "--seed", "11", "--json"])
    tree = json.loads(capsys.readouterr().out)
    assert tree["schema"] == "copperpath.seasons/1"
    assert [each["seed"] for each in tree["seasons"]] == [11, 12, 13]
    assert tree["lasts"]["count"] == 3
    assert tree["percents"] == [5, 25, 50, 75, 95]
    assert len(tree["lowest_charge"]["pack"]) == 5
    assert set(tree["provenance"]) == {"weather", "sky", "seeds", "step", "executor"}


def test_a_case_that_is_not_there_is_named(hut: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["seasons", str(hut), "--case", "bright"]) == 2
    assert 'did you mean "brighter"?' in capsys.readouterr().err


def test_measured_light_is_refused_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [f"2026-11-{day:02}T{hour:02}:00Z,0" for day in range(19, 27) for hour in range(24)]
    (tmp_path / "sun.csv").write_text(
        "time,plane [W/m2]\n" + "\n".join(rows) + "\n", encoding="utf-8"
    )
    file = tmp_path / "hut.station"
    text = HUT.replace("CURRENT", "0.1 A").replace("50 % of clear", '"sun.csv"')
    file.write_text(text.replace("    rime       30 %\n", ""), encoding="utf-8")
    assert exit_code(["seasons", str(file)]) == 2
    err = capsys.readouterr().err
    assert err == (
        f"{file}: the light of each day stands in `sun.csv`, so no days can be drawn at random\n"
        "write `sky` as a share of the clear sky, such as `sky 50 % of clear`, or without "
        "`random_days` run the days of the file\n"
    )


def test_mistakes_of_the_new_entries_are_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "hut.station"
    wrong = "rime 30 %\n    random_days 7\n    cover_spell 3 h\n"
    file.write_text(HUT.replace("CURRENT", "0.1 A").replace("rime       30 %\n", wrong))
    assert exit_code(["check", str(file)]) == 2
    err = capsys.readouterr().err
    assert "`random_days` takes no value" in err
    assert "`cover_spell` cannot be 3 h" in err
