from __future__ import annotations

from importlib.metadata import entry_points

import pytest

from copperpath.plugin_api import Model, Parameter, Window
from copperpath.report.declared import example_text, parameter_words
from copperpath.report.layout import cells_of
from copperpath.report.model_page import model_page
from copperpath.report.models_screen import model_screen, models_screen

MODELS: list[type[Model]] = [point.load() for point in entry_points(group="copperpath.models")]


def test_defaults_and_bounds_are_shown_in_the_unit_that_people_write() -> None:
    parameter = Parameter(
        "warmth",
        "temperature",
        "how warm it is",
        default=273.15,
        low=233.15,
        high=333.15,
        shown_unit="degC",
    )
    words = parameter_words(parameter)
    assert words.default == "0 degC"
    assert words.bounds == "-40 degC to 60 degC"


def test_a_bound_that_is_not_allowed_itself_is_told_apart() -> None:
    words = parameter_words(
        Parameter("capacity", "charge", "charge", low=0.0, low_allowed=False, shown_unit="Ah")
    )
    assert words.bounds == "more than 0 Ah"


def test_a_window_shows_both_ends() -> None:
    words = parameter_words(Window("works", "voltage", "window", default=(10.5, 15.0)))
    assert words.default == "10.5 V .. 15 V"


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.name)
def test_a_model_s_screen_names_every_parameter_within_80_columns(model: type[Model]) -> None:
    screen = model_screen(model)
    assert max(cells_of(line) for line in screen.splitlines()) <= 80
    for parameter in model.parameters:
        assert f"\n  {parameter.name} " in screen


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.name)
def test_a_model_s_page_names_every_parameter(model: type[Model]) -> None:
    page = model_page(model)
    for parameter in model.parameters:
        assert f"\n`{parameter.name}` (" in page


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.name)
def test_the_least_declaration_shown_is_good_language(model: type[Model]) -> None:
    from copperpath_grammar.parser import parse

    assert parse(example_text(model)).diagnostics == ()


def test_the_list_of_models_has_them_all() -> None:
    screen = models_screen(MODELS, {})
    for model in MODELS:
        assert f"  {model.name} " in screen
