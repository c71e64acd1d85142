"""Write the variants of hollow_tooth.station: each is that file with a few words changed."""

from __future__ import annotations

from pathlib import Path

from copperpath_grammar.formatter import format_text

FOLDER = Path(__file__).parent
BASE = "hollow_tooth.station"
TITLE = '"Hollow Tooth Relay, lithium battery without heating"'

AGM_BATTERY = (
    (
        """storage   pack      : lfp          {
    cells 4; capacity 300 Ah; resistance 5 mohm; charge_limit 100 A; thermal_lag 12 h
""",
        """storage   pack      : lead_acid    {
    kind agm; capacity 400 Ah; rated_over 20 h; resistance 1.5 mohm; thermal_lag 12 h
""",
    ),
    ("available   75 %", "available   60 %"),
    ("reserve 20 %\n    mass 32 kg", "reserve 40 %\n    mass 120 kg"),
    (
        "idle 15 mA; mass 1.5 kg",
        "idle 15 mA; profile lead_acid; absorb 14.7 V; float 13.8 V; mass 1.5 kg",
    ),
    ("require pack.charge >= 20 %", "require pack.charge >= 50 %"),
    ("the 10.4 V at which the battery's own board would lock itself off", "what harms the battery"),
)
WARMED = (
    (
        "temperature air + 6 K  # in a vault under the hut",
        "temperature 4 degC  # insulated, and warmed when the sun shines",
    ),
    ("available   75 %", "available   83 %"),
    ("power 0 W; on 10:00 to 13:00", "power 20 W; on 10:00 to 13:00"),
)

VARIANTS = {
    "lead_acid": ("lead-acid battery", AGM_BATTERY),
    "warmed": ("lithium battery, warmed", WARMED),
}
"""File name: what its title adds, and the changes as (before, after)."""


def variant(text: str, title: str, changes: tuple[tuple[str, str], ...]) -> str:
    """The base text with its title and a few words changed; each must occur exactly once."""
    for before, after in ((TITLE, f'"Hollow Tooth Relay, {title}"'), *changes):
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
