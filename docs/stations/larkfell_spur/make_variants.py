"""Write the variants of larkfell_spur.station: each is that file with a few words changed."""

from __future__ import annotations

from pathlib import Path

from copperpath_grammar.formatter import format_text

FOLDER = Path(__file__).parent
BASE = "larkfell_spur.station"
TITLE = '"Larkfell Spur, one-person backpack"'

COLD = (
    "temperature 5 degC; available 85 %  # carried warm, inside the jacket",
    "temperature -10 degC; available 66 %  # left in the snow; the check says what that does",
)
BIGGER = (
    ("capacity 12 Ah; resistance 45 mohm", "capacity 20 Ah; resistance 34 mohm"),
    ("    mass   1.4 kg", "    mass   2.3 kg"),
)
TRACKER_OFF = ("power 0.6 W; works", "power 0.6 W; off 20:00 to 06:00; works")

VARIANTS = {
    "left_in_the_cold": ("battery left in the cold", (COLD,)),
    "bigger_battery": ("20 Ah", BIGGER),
    "tracker_off_at_night": ("tracker off at night", (TRACKER_OFF,)),
    "bigger_battery_tracker_off": ("20 Ah, tracker off at night", (*BIGGER, TRACKER_OFF)),
}
"""File name: what its title adds, and the changes as (before, after)."""


def variant(text: str, title: str, changes: tuple[tuple[str, str], ...]) -> str:
    """The base text with its title and a few words changed; each must occur exactly once."""
    for before, after in ((TITLE, f'"Larkfell Spur, {title}"'), *changes):
        if text.count(before) != 1:
            raise ValueError(f"{before!r} stands {text.count(before)} times in {BASE}")
        text = text.replace(before, after)
    return format_text(text).text


def variants() -> dict[str, str]:
    """Texts by file name."""
    base = (FOLDER / BASE).read_text(encoding="utf-8")
    return {f"{name}.station": variant(base, *what) for name, what in VARIANTS.items()}


if __name__ == "__main__":
    for name, text in variants().items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")
