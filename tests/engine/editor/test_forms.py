"""Completion knows every entry of the language, and proposes only units that fit."""

from __future__ import annotations

import pytest
from support.editor_texts import CATALOGUE

from copperpath.build import cables, common_entries, site
from copperpath.editor.fixed_forms import CABLE_FORMS, COMMON_FORMS, STATION_FORMS
from copperpath.editor.forms import model_forms
from copperpath.editor.unit_choice import MEANING, units_for
from copperpath.quantities import MEANINGS, fits, read_measure
from copperpath_grammar import parse


def test_every_entry_that_the_builder_reads_has_a_form() -> None:
    assert set(CABLE_FORMS) == set(cables.ENTRIES)
    assert set(STATION_FORMS) == set(site.ENTRIES)
    assert set(COMMON_FORMS) == set(common_entries.COMMON)


@pytest.mark.parametrize("dimension", MEANINGS)
def test_every_proposed_unit_measures_what_is_wanted(dimension: str) -> None:
    for unit in units_for(dimension):
        assert fits(read_measure(1.0, unit), dimension)
        assert MEANING[unit]


@pytest.mark.parametrize("name", CATALOGUE.names)
def test_every_parameter_of_a_model_has_an_example_that_can_be_read(name: str) -> None:
    model = CATALOGUE.load(name)
    assert isinstance(model, type)
    for entry, form in model_forms(model).items():
        values = form.example or form.first[0]
        text = f"{model.kind} x : {name} {{ {entry} {values} }}"
        assert parse(text).diagnostics == (), text


@pytest.mark.parametrize("forms", [CABLE_FORMS, STATION_FORMS, COMMON_FORMS])
def test_every_fixed_form_is_explained(forms: dict[str, object]) -> None:
    for name, form in forms.items():
        assert f"**{name}**" in getattr(form, "help", "")
