"""How shown outputs are compared: words exactly, numbers nearly."""

from __future__ import annotations

import pytest
from support.pages import alike


@pytest.mark.parametrize(
    ("shown", "printed"),
    [
        ("lowest 13.14 V", "lowest 13.12 V"),
        ("on Mon 30 March 12:00", "on Mon 30 March 11:59"),
        ("left over -1.7e-14 Wh", "left over 2.1e-12 Wh"),
        ("rig     9.9   1", "rig    10.0   1"),
    ],
)
def test_last_digits_and_blanks_may_differ(shown: str, printed: str) -> None:
    assert alike(shown, printed)


@pytest.mark.parametrize(
    ("shown", "printed"),
    [
        ("HOLDS", "LASTS"),
        ("lowest 13.1 V", "lowest 12.1 V"),
        ("lowest 13.1 V", "lowest 13.1 V\nand more"),
        ("left over 1e-14 Wh", "left over 1.0e+01 Wh"),
        ("on 30 March 12:00", "on 30 March 14:00"),
    ],
)
def test_other_words_and_other_figures_are_noticed(shown: str, printed: str) -> None:
    assert not alike(shown, printed)
