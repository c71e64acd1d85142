"""Spoilt station files through everything that `check` does with a text: never an exception."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from support.mutants import mutants
from support.runs import HERON_BOG, LARKFELL

from copperpath.network.checks import check_network
from copperpath.pipeline import load_text
from copperpath_grammar import render

EXAMPLES = (HERON_BOG, LARKFELL / "larkfell_spur.station")
SLOWEST_S = 2.0
EVERY_MUTANT = 10_000
"""Of each of the two examples."""


def check(text: str, folder: Path) -> None:
    """As the command does: read, build, look at the network, and word every complaint."""
    loaded = load_text(text, folder=folder)
    if loaded.station is None:
        assert loaded.diagnostics
        render(loaded.diagnostics)
    else:
        check_network(loaded.station)


def slowest_of(path: Path, count: int, seed: int) -> float:
    """The longest time that one of so many spoilt copies takes [s]; of the processor, as others may
    be at work on the machine."""
    slowest = 0.0
    for text in mutants(path.read_text(encoding="utf-8"), count, seed):
        began = time.process_time()
        try:
            check(text, path.parent)
        except Exception as mistake:
            raise AssertionError(f"raises on:\n{text!r}") from mistake
        slowest = max(slowest, time.process_time() - began)
    return slowest


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_spoilt_examples_are_read_without_an_exception(path: Path) -> None:
    assert slowest_of(path, 150, seed=21) < SLOWEST_S


@pytest.mark.long
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_twenty_thousand_spoilt_examples_are_read_without_an_exception(path: Path) -> None:
    assert slowest_of(path, EVERY_MUTANT, seed=22) < SLOWEST_S
