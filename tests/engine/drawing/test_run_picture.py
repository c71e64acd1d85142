"""The picture of a run shows what the record says, and says it in words that are the file's."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import StepPatch
from support.pictures import difference, like_the_kept_one
from support.small_station import LAMP, LAMP_LEAD, PANEL, run_text, small_text

from copperpath.drawing.clock_axis import make_clock, nights
from copperpath.drawing.look import shown
from copperpath.drawing.page import write_picture
from copperpath.drawing.power_panel import layers_in, layers_out
from copperpath.drawing.run_picture import draw_run
from copperpath.record.record import Record
from copperpath.site.place import make_place
from copperpath.site.sun import sun_over_time

GOLDEN = Path(__file__).parent / "golden"
FED = PANEL + LAMP + LAMP_LEAD


@cache
def fed() -> Record:
    """A lamp, a battery and a panel over 24 hours in steps of five minutes."""
    return run_text(small_text(FED, capacity="12 Ah"), 300.0)


@cache
def cold() -> Record:
    """The same with a battery that follows an air which is below freezing by night."""
    text = small_text(FED, capacity="12 Ah", pack="thermal_lag 1 h;")
    text = text.replace("temperature 25 degC", "temperature air")
    text = text.replace("air 8 degC .. 19 degC", "air -6 degC .. 9 degC")
    return run_text(text, 300.0)


def drawn(record: Record) -> Figure:
    """Its picture."""
    return draw_run(record)


def with_gid(figure: Figure, panel: int, gid: str) -> list[Any]:
    """What is called so in a panel."""
    return [each for each in figure.axes[panel].get_children() if each.get_gid() == gid]


def words_of(figure: Figure) -> str:
    """All that is written beside the panels."""
    return " ".join(text.get_text() for text in figure.texts)


def test_the_line_of_charge_is_that_of_the_record() -> None:
    (line,) = [each for each in drawn(fed()).axes[0].lines if each.get_label() == "pack"]
    charge = fed().base.traces["pack.charge"].values
    assert np.array_equal(np.asarray(line.get_ydata()), 100.0 * charge)


def test_charge_is_drawn_at_the_ends_of_the_steps() -> None:
    (line,) = [each for each in drawn(fed()).axes[0].lines if each.get_label() == "pack"]
    assert np.asarray(line.get_xdata())[[0, -1]].tolist() == [300.0, 24 * 3600.0]


def test_the_thin_line_of_volts_is_the_worst_instant_of_the_record() -> None:
    (patch,) = with_gid(drawn(fed()), 2, "worst lamp")
    assert isinstance(patch, StepPatch)
    assert np.array_equal(patch.get_data().values, fed().base.traces["lamp.voltage"].values)


def test_the_layer_of_the_panel_is_its_power_in_the_record() -> None:
    (patch,) = with_gid(drawn(fed()), 1, "in: panel")
    data = patch.get_data()
    power = np.maximum(fed().base.traces["panel.power"].values, 0.0)
    assert np.allclose(data.values - data.baseline, power, atol=1e-12)


def test_what_comes_in_is_what_goes_out_at_each_step() -> None:
    entering = np.sum([layer.watts for layer in layers_in(fed().base)], axis=0)
    leaving = np.sum([layer.watts for layer in layers_out(fed().base)], axis=0)
    # The leak of the solver alone is in no layer: 1e-9 S at some tens of nodes.
    assert np.abs(entering - leaving).max() < 1e-4


def test_nights_begin_and_end_where_the_sun_crosses_the_horizon() -> None:
    case = cold().base
    dark = nights(case, make_clock(case, 300.0))
    assert dark
    place = make_place(case.station.site)
    edges = np.array([at for span in dark for at in span if 0.0 < at < 86_400.0])
    height = sun_over_time(case.time_s[0] + edges, place).apparent_elevation_deg
    assert np.abs(height).max() < 0.02
    middles = np.array([0.5 * (begin + end) for begin, end in dark])
    assert np.all(sun_over_time(case.time_s[0] + middles, place).apparent_elevation_deg < 0.0)


def test_each_panel_has_a_shade_for_each_night() -> None:
    case = fed().base
    count = len(nights(case, make_clock(case, 300.0)))
    figure = drawn(fed())
    assert [len(with_gid(figure, panel, "night")) for panel in range(3)] == [count] * 3


def test_hatched_spans_are_the_steps_in_which_cold_blocks() -> None:
    blocked = cold().base.marks["pack.cold"].values
    spans = with_gid(drawn(cold()), 0, "blocked 0")
    hatched = np.zeros(len(blocked))
    for span in spans:
        begin, end = span.get_x(), span.get_x() + span.get_width()
        hatched[round(begin / 300.0) : round(end / 300.0)] = 1.0
    assert 0.0 < blocked.mean() < 1.0
    assert np.array_equal(hatched, blocked)


def test_the_reason_is_written_in() -> None:
    assert "cold" in [text.get_text() for text in drawn(cold()).axes[0].texts]


def test_a_station_that_is_never_blocked_has_no_hatch() -> None:
    assert not with_gid(drawn(fed()), 0, "blocked 0")


def test_a_load_that_is_short_is_marked_for_as_long_as_it_is() -> None:
    record = run_text(small_text(lasts="8 h"), 300.0)
    figures = next(each for each in record.base.devices if each.name == "lamp")
    assert figures.wanted_s is not None
    assert figures.powered_s is not None
    bars = with_gid(drawn(record), 2, "short")
    assert sum(bar.get_width() for bar in bars) == pytest.approx(
        figures.wanted_s - figures.powered_s
    )


def test_title_and_verdict_stand_above() -> None:
    words = words_of(drawn(fed()))
    assert "Small" in words
    assert fed().verdict.word.upper() in words
    assert shown(fed().verdict.sentence) in words


def test_step_and_sky_stand_below() -> None:
    words = words_of(drawn(fed()))
    assert "step 300 s" in words
    assert "Ineichen and Perez" in words


def test_a_name_with_dollar_signs_is_no_formula(tmp_path: Path) -> None:
    case = fed().base
    station = replace(case.station, title=r"Costs $\frac{1}{ $ & <b> \ 5$")
    record = replace(fed(), cases=(replace(case, station=station),))
    figure = draw_run(record)
    write_picture(figure, tmp_path / "run.svg")
    assert r"Costs $\frac{1}{ $ & <b> \ 5$" in words_of(figure)


def test_a_sign_that_the_font_has_not_becomes_a_question_mark() -> None:
    assert shown("Hütte 山\x1b[1m") == "Hütte ?[1m"


def test_of_twenty_loads_those_nearest_to_their_limit_are_drawn_and_the_others_counted() -> None:
    loads = "".join(
        f"load l{k} : steady {{ current 0.02 A; works {8 + 0.1 * k:.1f} V .. 15 V }}\n"
        f"cable strip.{k + 1} -> l{k} {{ length 1 m; wire 1.5 mm2; fuse 3 A at strip }}\n"
        for k in range(20)
    )
    feed = "cable pack -> strip.in { length 1 m; wire 4 mm2; fuse 15 A at pack }\n"
    strip = "block strip : strip { ways 20; rating 30 A }\n"
    figure = drawn(run_text(small_text(strip + feed + loads, lasts="2 h"), 300.0))
    means = [each.get_gid() for each in figure.axes[2].get_children() if each.get_gid()]
    assert [gid for gid in means if gid.startswith("mean")] == [
        "mean l19", "mean l18", "mean l17", "mean l16",
    ]  # fmt: skip
    assert "16 more loads are left out" in words_of(figure)


def test_a_station_without_a_store_is_drawn() -> None:
    text = small_text("").split("storage")[0] + (
        "source mains : supply { voltage 13 V; limit 5 A }\n" + LAMP
    )
    text += "cable mains -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at mains }\n"
    figure = drawn(run_text(text, 300.0))
    assert "no store" in figure.axes[0].texts[0].get_text()


def test_steps_without_a_figure_leave_gaps_and_are_drawn_all_the_same(tmp_path: Path) -> None:
    case = fed().base
    gaps = np.zeros(len(case.time_s), dtype=bool)
    gaps[100:110] = True
    holed = {
        name: replace(trace, values=np.where(gaps, np.nan, trace.values))
        for name, trace in case.traces.items()
        if name != "pack.charge"
    }
    holed["pack.charge"] = case.traces["pack.charge"]
    account = {
        name: replace(trace, values=np.where(gaps, np.nan, trace.values))
        for name, trace in case.account.items()
    }
    record = replace(fed(), cases=(replace(case, traces=holed, account=account),))
    figure = draw_run(record)
    write_picture(figure, tmp_path / "run.png")
    (patch,) = with_gid(figure, 2, "mean lamp")
    assert np.array_equal(np.isnan(patch.get_data().values), gaps)


def test_a_run_without_any_figure_is_drawn(tmp_path: Path) -> None:
    case = fed().base
    nothing = np.full(len(case.time_s), np.nan)
    traces = {
        name: replace(trace, values=trace.values if name.endswith("charge") else nothing)
        for name, trace in case.traces.items()
    }
    account = {name: replace(trace, values=nothing) for name, trace in case.account.items()}
    record = replace(fed(), cases=(replace(case, traces=traces, account=account),))
    write_picture(draw_run(record), tmp_path / "run.png")
    assert (tmp_path / "run.png").exists()


def test_the_same_run_makes_the_same_file_each_time(tmp_path: Path) -> None:
    for name in ("one.svg", "two.svg"):
        write_picture(draw_run(fed()), tmp_path / name)
    assert (tmp_path / "one.svg").read_bytes() == (tmp_path / "two.svg").read_bytes()


def test_the_picture_looks_like_the_one_that_was_looked_at(tmp_path: Path) -> None:
    write_picture(draw_run(cold()), tmp_path / "cold.png")
    assert like_the_kept_one(tmp_path / "cold.png", GOLDEN / "cold.png")


def test_the_picture_of_another_run_does_not(tmp_path: Path) -> None:
    shorter = replace(cold(), cases=(_with_half_the_charge(cold()),))
    write_picture(draw_run(shorter), tmp_path / "other.png")
    assert difference(tmp_path / "other.png", GOLDEN / "cold.png") > 4.0


def _with_half_the_charge(record: Record) -> Any:
    case = record.base
    traces = {name: case.traces[name] for name in case.traces}
    trace = traces["pack.charge"]
    traces["pack.charge"] = replace(trace, values=0.5 * trace.values)
    return replace(case, traces=traces)
