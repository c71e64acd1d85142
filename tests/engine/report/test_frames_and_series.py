from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pandas
import pytest
from support.records import make_record

from copperpath.report.series import SeriesProblem, check_series_path, write_series


def test_a_frame_has_units_in_its_headings_and_the_station_s_clock() -> None:
    frame = make_record().frame()
    assert list(frame.columns) == ["rig.voltage [V]"]
    assert frame.index[0].isoformat() == "2026-03-28T06:00:00+01:00"


def test_a_trace_comes_back_as_a_quantity() -> None:
    volts = make_record().quantity("rig.voltage")
    assert volts.to("mV").magnitude[0] == 13000.0


def test_an_unknown_trace_is_answered_with_the_nearest() -> None:
    with pytest.raises(KeyError, match=r"nearest: rig\.voltage"):
        make_record().quantity("rig.volts")


def test_an_unknown_case_is_answered_with_those_there_are() -> None:
    with pytest.raises(KeyError, match="there are: base"):
        make_record().frame("overcast")


def test_a_notebook_shows_a_table_with_all_text_escaped() -> None:
    record = make_record()
    record = replace(record, station=replace(record.station, title="<script>"))
    shown = record._repr_html_()
    assert "<script>" not in shown
    assert "&lt;script&gt;" in shown
    assert "runs down" in shown


@pytest.mark.parametrize("name", ["run.csv", "run.parquet"])
def test_a_series_reads_back_as_it_was(name: str, tmp_path: Path) -> None:
    record = make_record()
    write_series(record, tmp_path / name)
    if name.endswith("csv"):
        back = pandas.read_csv(tmp_path / name)
        assert back["time"][0] == "2026-03-28T06:00:00+01:00"
    else:
        back = pandas.read_parquet(tmp_path / name)
    assert list(back["rig.voltage [V]"]) == pytest.approx(record.frame()["rig.voltage [V]"])
    assert [file.name for file in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("run.xls", "written as .csv or .parquet"),
        ("run", "has no ending"),
        ("nowhere/run.csv", "does not exist; make it first"),
    ],
)
def test_a_series_that_cannot_be_written_is_refused_in_words(
    name: str, words: str, tmp_path: Path
) -> None:
    with pytest.raises(SeriesProblem, match=words):
        check_series_path(tmp_path / name)
