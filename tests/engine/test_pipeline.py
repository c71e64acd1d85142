"""From text to record in one call, by either executor, and the way in from Python."""

from __future__ import annotations

import subprocess
import sys
from functools import cache
from pathlib import Path

import numpy as np
import pandas
import pytest
from support.runs import HERON_BOG, LARKFELL, record_of, station_from_file
from support.small_station import LAMP, LAMP_LEAD, small_text

import copperpath
from copperpath.pipeline import load, load_text, run
from copperpath.record.record import Record

HALF_HOUR_S = 1800.0


@cache
def twin_record() -> Record:
    return run(station_from_file(HERON_BOG), step_s=HALF_HOUR_S, executor="twin")


def test_the_twin_says_the_same_as_the_compiled_loop() -> None:
    compiled = run(station_from_file(HERON_BOG), step_s=HALF_HOUR_S, executor="compiled")
    twin = twin_record()
    assert compiled.provenance["executor"] == "compiled loop"
    assert twin.provenance["executor"] == "numpy twin"
    assert twin.verdict.sentence == compiled.verdict.sentence
    assert twin.verdict.word == compiled.verdict.word
    assert [each.met for each in twin.base.requirements] == [
        each.met for each in compiled.base.requirements
    ]
    assert list(twin.base.traces) == list(compiled.base.traces)
    for name, trace in twin.base.traces.items():
        np.testing.assert_allclose(
            trace.values, compiled.base.traces[name].values, rtol=0.0, atol=1e-7, err_msg=name
        )
    for name in ("sources", "loads", "cables", "converters", "storage_loss", "stored_change"):
        figures = [getattr(each.base.ledger, name) for each in (twin, compiled)]
        assert figures[0] == pytest.approx(figures[1], rel=1e-8, abs=1e-3), name
    for one, other in zip(twin.base.devices, compiled.base.devices, strict=True):
        assert one.energy_j == pytest.approx(other.energy_j, rel=1e-8, abs=1e-3)
        assert one.worst_voltage_v == pytest.approx(other.worst_voltage_v, abs=1e-7)
        assert one.charge_end == pytest.approx(other.charge_end, abs=1e-8)


def test_a_run_says_what_it_is_doing_in_the_order_it_does_it() -> None:
    said: list[str] = []
    run(station_from_file(HERON_BOG), step_s=3600.0, progress=said.append)
    assert said == [
        "sun and sky",
        "operating points over time",
        "verdict and what would change it",
    ]


def test_a_run_twice_gives_the_same_record() -> None:
    station = station_from_file(LARKFELL / "larkfell_spur.station")
    one, other = run(station, step_s=600.0), run(station, step_s=600.0)
    assert one.verdict == other.verdict
    assert one.base.ledger == other.base.ledger
    assert one.base.devices == other.base.devices


def test_every_mistake_of_a_text_comes_back_in_order_and_no_station() -> None:
    text = small_text().replace("steady", "steedy").replace("1.5 mm2", "1.5 mm")
    loaded = load_text(text)
    assert loaded.station is None
    starts = [each.span.start for each in loaded.diagnostics]
    assert len(starts) == 2
    assert starts == sorted(starts)


def test_a_text_without_a_folder_reads_no_files() -> None:
    text = (LARKFELL / "larkfell_spur.station").read_text(encoding="utf-8")
    assert load_text(text).station is None
    assert load_text(text, folder=LARKFELL).station is not None


def test_a_file_that_is_not_there_raises_as_any_open_does() -> None:
    with pytest.raises(FileNotFoundError):
        load("nowhere.station")


def test_a_file_that_is_no_text_is_a_mistake_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "picture.station"
    path.write_bytes(b"\x89PNG\xff\xfe\x00\x01")
    loaded = load(path)
    assert loaded.station is None
    assert loaded.diagnostics


def test_reading_a_station_imports_none_of_the_slow_libraries() -> None:
    code = (
        "import sys; from copperpath.pipeline import load; "
        "from copperpath.network.checks import check_network; "
        f"check_network(load({str(HERON_BOG)!r}).station); "
        "print(sorted({'pandas', 'scipy', 'numba', 'pvlib'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


# ---- the way in from Python ------------------------------------------------------------------


def test_a_station_is_loaded_and_run_in_one_line() -> None:
    record = copperpath.load(HERON_BOG).run(step_s=HALF_HOUR_S)
    assert isinstance(record, Record)
    assert record.verdict.word in ("holds", "lasts")
    assert record.step_s == HALF_HOUR_S


def test_mistakes_are_raised_with_the_text_that_the_command_would_print(tmp_path: Path) -> None:
    path = tmp_path / "wrong.station"
    path.write_text(small_text().replace("capacity 2 Ah", "capacity 2 A"), encoding="utf-8")
    with pytest.raises(copperpath.Failure, match=r"12 Ah") as failure:
        copperpath.load(path)
    assert "wrong.station" in str(failure.value).replace("\n", "")  # a long path is folded
    assert len(failure.value.diagnostics) == 1


def test_the_frame_of_a_run_has_a_row_a_step_in_the_zone_of_the_station() -> None:
    record = record_of(HERON_BOG)
    frame = record.frame()
    assert isinstance(frame.index, pandas.DatetimeIndex)
    assert frame.shape == (4320, len(record.base.traces))
    assert frame.index[0].isoformat() == "2026-06-19T08:00:00+03:00"
    assert frame.index[-1].isoformat() == "2026-06-22T07:59:00+03:00"
    assert frame.index.is_monotonic_increasing


def test_the_headings_of_a_frame_have_units_and_a_share_has_none() -> None:
    headings = set(record_of(HERON_BOG).frame().columns)
    assert {
        "rig.voltage [V]",
        "rig.mean_voltage [V]",
        "rig.current [A]",
        "rig.power [W]",
        "pack.charge",
        "regulator.panel.voltage [V]",
        "strip.1 -> rig.current [A]",
    } <= headings


def test_a_trace_is_had_as_a_quantity_in_any_unit_of_its_kind() -> None:
    record = record_of(HERON_BOG)
    volts = record.quantity("rig.voltage")
    np.testing.assert_allclose(volts.to("mV").magnitude, 1000.0 * volts.magnitude)
    charge = record.quantity("pack.charge")
    assert charge.dimensionless
    with pytest.raises(Exception, match="Cannot convert"):
        volts.to("A")


def test_arrays_of_a_record_cannot_be_written_to() -> None:
    record = record_of(HERON_BOG)
    for name, trace in record.base.traces.items():
        assert not trace.values.flags.writeable, name
    with pytest.raises(ValueError, match="read-only"):
        record.base.traces["rig.voltage"].values[0] = 0.0
    with pytest.raises(ValueError, match="read-only"):
        record.time_s[0] = 0.0


def test_a_record_itself_cannot_be_changed() -> None:
    record = record_of(HERON_BOG)
    with pytest.raises(AttributeError):
        record.step_s = 1.0
    with pytest.raises(AttributeError):
        record.base.ledger.sources = 0.0


def test_what_a_notebook_shows_is_escaped() -> None:
    loaded = load_text(small_text("require lamp.power <= 5 W\n" + LAMP + LAMP_LEAD))
    assert loaded.station is not None
    shown = run(loaded.station, step_s=HALF_HOUR_S)._repr_html_()
    assert "lamp.power &lt;= 5 W" in shown
    assert "<= 5" not in shown


def test_a_title_with_markup_stays_text_in_a_notebook() -> None:
    loaded = load_text(small_text().replace('"Small"', '"<script>alert(1)</script>"'))
    assert loaded.station is not None
    shown = run(loaded.station, step_s=HALF_HOUR_S)._repr_html_()
    assert "<script>" not in shown
    assert "&lt;script&gt;" in shown


def test_figures_of_a_run_fit_its_traces() -> None:
    record = record_of(HERON_BOG)
    for device in record.base.devices:
        power = record.base.traces.get(f"{device.name}.power")
        if power is not None:
            assert device.energy_j == pytest.approx(float(power.values.sum()) * 60.0, abs=1e-3)
    cables = sum(cable.loss_j for cable in record.base.cables)
    assert cables <= record.base.ledger.cables * (1.0 + 1e-9)
    assert cables == pytest.approx(record.base.ledger.cables, rel=0.2)
