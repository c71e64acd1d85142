"""Names of many of one kind stand short in sentences."""

from __future__ import annotations

import pytest

from copperpath.report.names_of_many import in_a_sentence, shortened


@pytest.mark.parametrize(
    ("names", "short"),
    [
        (["rig", "pack"], ["rig", "pack"]),
        (["lamp[1]", "lamp[2]", "lamp[3]"], ["lamp[1..3]"]),
        (["lamp[1]", "lamp[3]"], ["lamp[1]", "lamp[3]"]),
        (["lamp[1]", "rig", "lamp[2]"], ["lamp[1..2]", "rig"]),
        (["box[1].a", "box[1].b", "box[2].a", "box[2].b"], ["box[1..2].a", "box[1..2].b"]),
        (
            ["box[1].rig[1]", "box[1].rig[2]", "box[2].rig[1]", "box[2].rig[2]"],
            ["box[1..2].rig[1..2]"],
        ),
        (
            ["box[1].rig[1]", "box[1].rig[2]", "box[2].rig[1]"],
            ["box[1].rig[1..2]", "box[2].rig[1]"],
        ),
        (["a[1]", "a[2].b"], ["a[1]", "a[2].b"]),
    ],
)
def test_running_numbers_become_a_range(names: list[str], short: list[str]) -> None:
    assert shortened(names) == short


def test_a_sentence_counts_what_it_does_not_name() -> None:
    words = in_a_sentence([f"lamp{chr(97 + k)}" for k in range(15)])
    assert words.startswith("lampa, lampb, ")
    assert words.endswith("lampl and 3 others")
