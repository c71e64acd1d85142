"""Spoilt station files through everything that `check` does with a text: never an exception."""

from __future__ import annotations

import random
import time
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from support.building import CATALOGUE
from support.mutants import mutants
from support.runs import HERON_BOG, LARKFELL
from support.whole_language import STATIONS, lay_down

from copperpath.network.checks import check_network
from copperpath.pipeline import build_parsed, load
from copperpath_grammar import parse, render

EXAMPLES = (HERON_BOG, LARKFELL / "larkfell_spur.station")
SLOWEST_S = 2.0
EVERY_MUTANT = {"heron_bog": 12_000, "larkfell_spur": 8_000}
EVERY_MUTANT |= {"facts": 35_000, "kits": 20_000, "cases": 20_000, "library": 5_000}
"""Of each example, and of each station that uses a share of the language: 100 000 together."""


def check(text: str, path: Path) -> None:
    """As the command does: read, build, look at the network, and word every complaint."""
    loaded = build_parsed(parse(text, str(path)), CATALOGUE, path.parent)
    if loaded.station is None:
        assert loaded.diagnostics
        render(loaded.diagnostics)
    else:
        check_network(loaded.station)


def slowest_of(texts: Iterator[str], path: Path) -> float:
    """The longest time that one of the texts takes [s]; of the processor, as others may be at work
    on the machine."""
    slowest = 0.0
    for text in texts:
        began = time.process_time()
        try:
            check(text, path)
        except Exception as mistake:
            raise AssertionError(f"raises on:\n{text!r}") from mistake
        slowest = max(slowest, time.process_time() - began)
    return slowest


def spoilt(files: Mapping[str, str], folder: Path, count: int, seed: int) -> Iterator[str]:
    """The text of the first file, so many times: it is spoilt, or one that it includes is."""
    dice = random.Random(seed)
    main, *others = files
    copies = {name: mutants(text, count, seed) for name, text in files.items()}
    for _ in range(count):
        name = dice.choice((main, main, *others))
        text = next(copies[name])
        if name == main:
            yield text
        else:
            # A lone half of a character is no file's text; it is written as bytes that are not.
            (folder / name).write_bytes(text.encode("utf-8", "surrogatepass"))
            yield files[main]
            (folder / name).write_text(files[name], encoding="utf-8")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_spoilt_examples_are_read_without_an_exception(path: Path) -> None:
    texts = mutants(path.read_text(encoding="utf-8"), 150, seed=21)
    assert slowest_of(texts, path) < SLOWEST_S


@pytest.mark.parametrize("name", STATIONS)
def test_a_station_that_uses_a_share_of_the_language_is_in_order(name: str, tmp_path: Path) -> None:
    """Else its spoilt copies would all stop at the same mistake."""
    assert load(lay_down(STATIONS[name], tmp_path)).diagnostics == ()


@pytest.mark.parametrize("name", STATIONS)
def test_spoilt_texts_of_the_whole_language_raise_nothing(name: str, tmp_path: Path) -> None:
    path = lay_down(STATIONS[name], tmp_path)
    assert slowest_of(spoilt(STATIONS[name], tmp_path, 150, seed=23), path) < SLOWEST_S


@pytest.mark.long
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_twenty_thousand_spoilt_examples_are_read_without_an_exception(path: Path) -> None:
    texts = mutants(path.read_text(encoding="utf-8"), EVERY_MUTANT[path.stem], seed=22)
    assert slowest_of(texts, path) < SLOWEST_S


@pytest.mark.long
@pytest.mark.parametrize("name", STATIONS)
def test_eighty_thousand_spoilt_texts_of_the_whole_language_raise_nothing(
    name: str, tmp_path: Path
) -> None:
    path = lay_down(STATIONS[name], tmp_path)
    texts = spoilt(STATIONS[name], tmp_path, EVERY_MUTANT[name], seed=24)
    assert slowest_of(texts, path) < SLOWEST_S
