"""The example stations are what their own scripts make of them."""

from __future__ import annotations

import csv
import math
from datetime import datetime
from pathlib import Path
from runpy import run_path

import pytest

STATIONS = Path(__file__).parents[2] / "docs" / "stations"
SPUR = STATIONS / "larkfell_spur"


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


@pytest.mark.parametrize("place", ["larkfell_spur", "harbour_hill"])
def test_the_sun_file_is_what_its_script_writes(place: str) -> None:
    folder = STATIONS / place
    made = run_path(str(folder / "make_sun.py"))["rows"]()
    assert (folder / "sun.csv").read_text(encoding="utf-8").splitlines() == made


def test_the_variants_are_the_base_with_the_words_changed_that_the_script_lists() -> None:
    for name, text in run_path(str(SPUR / "make_variants.py"))["variants"]().items():
        assert (SPUR / name).read_text(encoding="utf-8") == text


def test_a_day_at_harbour_hill_brings_2_2_kilowatt_hours_a_square_metre() -> None:
    with (STATIONS / "harbour_hill" / "sun.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if "-12T" in row["time"]]
    total = sum(float(row["plane [W/m2]"]) for row in rows) / 4.0 / 1000.0
    assert abs(total - 2.2) < 0.01


def test_the_clear_day_brings_7_33_kilowatt_hours_a_square_metre() -> None:
    """960 W/m2 times 24/pi hours is 7.33 kWh/m2, the figure of the demonstration."""
    with (SPUR / "sun.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if "-28T" in row["time"]]
    total = sum(float(row["plane [W/m2]"]) for row in rows) / 6.0 / 1000.0
    assert abs(total - 7.33) < 0.01
