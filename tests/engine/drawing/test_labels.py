"""Labels beside a panel do not lie over each other."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from copperpath.drawing.labels import spread

PLACES = st.lists(st.floats(-0.5, 1.5), max_size=8)


@given(PLACES)
def test_labels_are_a_line_apart(wanted: list[float]) -> None:
    placed = sorted(spread(wanted, 0.1))
    assert all(b - a >= 0.1 - 1e-9 for a, b in pairwise(placed))


@given(PLACES)
def test_labels_keep_the_order_of_their_lines(wanted: list[float]) -> None:
    placed = spread(wanted, 0.1)
    for one, at in zip(wanted, placed, strict=True):
        for other, there in zip(wanted, placed, strict=True):
            assert not (one < other and at > there)


def test_labels_far_apart_stand_at_their_lines() -> None:
    assert spread([0.8, 0.2], 0.1) == [0.8, 0.2]
