"""Every built-in model keeps every promise of the plugin interface."""

from __future__ import annotations

import pytest

from copperpath.catalogue import installed_catalogue
from copperpath.conformance import assert_conforms

CATALOGUE = installed_catalogue()


@pytest.mark.parametrize("name", CATALOGUE.names)
def test_a_built_in_model_conforms(name: str) -> None:
    model = CATALOGUE.load(name)
    assert isinstance(model, type), str(model)
    assert_conforms(model)


@pytest.mark.long
@pytest.mark.parametrize("name", CATALOGUE.names)
def test_a_built_in_model_conforms_at_a_thousand_draws(name: str) -> None:
    """About six minutes for all models on one core."""
    model = CATALOGUE.load(name)
    assert isinstance(model, type), str(model)
    assert_conforms(model, draws=1000, seed=1)
