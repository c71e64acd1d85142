"""Parts as the page on the library shows them."""

from __future__ import annotations

from copperpath.report.library_page import library_table
from copperpath.report.part_sheets import PartSheet, part_sheets
from copperpath_grammar import parse

TEXT = """# About the whole file.

# A radio of 20 W
# for a backpack.
# Range: transmit 3.5 to
#   5.5 A.
# Source: from memory.
part radio_20w : transceiver {
    receive 0.7 A; transmit   4.5 A    # keyed
    mass 1.5 kg
}

# The same at 5 W.
# Source: measured, 2026.
part radio_20w_at_5w : radio_20w { transmit 2.6 A }
part bare : lfp { capacity 6 Ah }
"""


def _sheets() -> tuple[PartSheet, ...]:
    parsed = parse(TEXT)
    assert parsed.file is not None
    return part_sheets(parsed.file, parsed.source)


def test_the_remark_directly_above_a_part_is_read_in_three_pieces() -> None:
    radio = _sheets()[0]
    assert radio.what == "A radio of 20 W for a backpack."
    assert radio.range == "transmit 3.5 to 5.5 A."
    assert radio.source == "from memory."


def test_a_part_without_a_remark_has_empty_pieces() -> None:
    bare = _sheets()[2]
    assert (bare.what, bare.range, bare.source) == ("", "", "")


def test_a_part_shows_what_it_takes_over_and_what_it_changes() -> None:
    turned_down = _sheets()[1]
    assert turned_down.model == "transceiver"
    assert turned_down.built_on == "radio_20w"
    assert turned_down.figures == {"receive": "0.7 A", "transmit": "2.6 A", "mass": "1.5 kg"}


def test_the_table_has_a_row_for_each_part_with_its_mass_apart() -> None:
    rows = library_table(_sheets()).splitlines()
    assert len(rows) == 2 + 3
    assert rows[3] == (
        "| `radio_20w_at_5w` : `radio_20w` | The same at 5 W. | receive 0.7 A; transmit 2.6 A "
        "| 1.5 kg |  | measured, 2026. |"
    )
    assert "| not given |" in rows[4]
