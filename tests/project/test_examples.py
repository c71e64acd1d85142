"""The example stations are what their own scripts make of them."""

from __future__ import annotations

import csv
import math
from datetime import datetime
from pathlib import Path
from runpy import run_path

SPUR = Path(__file__).parents[2] / "docs" / "stations" / "larkfell_spur"


def test_the_sun_of_larkfell_spur_follows_its_formula() -> None:
    """Half a sine from 06:00 to 18:00, 960 W/m2, times 1, 0.2 and 0.07: written out again here."""
    shares = {28: 1.0, 29: 0.2, 30: 0.07, 31: 0.0}
    with (SPUR / "sun.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 433
    for row in rows:
        when = datetime.fromisoformat(row["time"])
        angle = math.pi * (when.hour * 60 + when.minute - 360) / 720
        light = 960.0 * shares[when.day] * max(math.sin(angle), 0.0)
        assert abs(float(row["plane [W/m2]"]) - light) <= 0.005 + 1e-9


def test_the_sun_file_is_what_its_script_writes() -> None:
    made = run_path(str(SPUR / "make_sun.py"))["rows"]()
    assert (SPUR / "sun.csv").read_text(encoding="utf-8").splitlines() == made


def test_the_variants_are_the_base_with_the_words_changed_that_the_script_lists() -> None:
    for name, text in run_path(str(SPUR / "make_variants.py"))["variants"]().items():
        assert (SPUR / name).read_text(encoding="utf-8") == text


def test_the_clear_day_brings_7_33_kilowatt_hours_a_square_metre() -> None:
    """960 W/m2 times 24/pi hours is 7.33 kWh/m2, the figure of the demonstration."""
    with (SPUR / "sun.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if "-28T" in row["time"]]
    total = sum(float(row["plane [W/m2]"]) for row in rows) / 6.0 / 1000.0
    assert abs(total - 7.33) < 0.01
