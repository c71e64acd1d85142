"""`copperpath models` leads from a list to every model, library and part."""

from __future__ import annotations

import pytest

from copperpath.cli.main import exit_code


def shown(capsys: pytest.CaptureFixture[str], *name: str) -> str:
    assert exit_code(["models", *name]) == 0
    return capsys.readouterr().out


def one_line(text: str) -> str:
    return " ".join(text.split())


def test_the_list_names_the_parts_of_every_library(capsys: pytest.CaptureFixture[str]) -> None:
    listed = one_line(shown(capsys))
    assert "batteries lfp_6ah, lfp_12ah" in listed
    assert "fm_50w, fm_50w_at_25w" in listed


def test_a_library_shows_the_figures_of_its_parts(capsys: pytest.CaptureFixture[str]) -> None:
    assert "fm_50w_at_25w (transceiver): The 50 W FM radio at 25 W. receive 0.5 A" in one_line(
        shown(capsys, "radios")
    )


def test_a_part_shows_what_it_takes_over_where_it_is_from_and_how_it_is_used(
    capsys: pytest.CaptureFixture[str],
) -> None:
    screen = one_line(shown(capsys, "fm_50w_at_25w"))
    assert "receive 0.5 A transmit 7.2 A" in screen
    assert "Source common practice, no source." in screen
    assert 'include library "radios" load my_fm_50w_at_25w : fm_50w_at_25w {' in screen


def test_a_part_s_example_has_what_the_part_leaves_to_the_station_and_no_more(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert "source my_panel_100w : panel_100w { mount flat }" in shown(capsys, "panel_100w")
    assert "block my_strip_6 : strip_6 { }" in shown(capsys, "strip_6")


def test_a_mistyped_part_is_answered_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["models", "fm50w"]) == 2
    assert "did you mean `fm_50w`?" in capsys.readouterr().err


@pytest.mark.parametrize("name", [(), ("radios",), ("loads",), ("panel_100w",), ("inverter_300w",)])
def test_the_screens_fit_80_columns(
    name: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert max(len(line) for line in shown(capsys, *name).splitlines()) <= 80
