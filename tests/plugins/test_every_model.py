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
def test_a_built_in_model_conforms_at_many_draws(name: str) -> None:
    model = CATALOGUE.load(name)
    assert isinstance(model, type), str(model)
    for seed in range(2, 7):
        assert_conforms(model, draws=100, seed=seed)
