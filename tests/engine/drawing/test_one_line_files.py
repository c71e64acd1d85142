"""Drawings as files: SVG that any reader takes, the pictures of the pages, a real browser."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import matplotlib.image
import numpy as np
import pytest
from support.big_stations import kit_text
from support.building import station_of
from support.one_line import sheet_of

from copperpath.drawing.one_line.paint import TONES, save_sheet
from copperpath.drawing.one_line.sheet import Sheet
from copperpath.inquiry.rule_catalogue import installed_rules
from copperpath.pipeline import load
from copperpath.plugin_api import FloatArray
from copperpath.plugin_api.rule import Rule
from copperpath.station import Cable, Device, Station, TerminalRef

ROOT = Path(__file__).parents[3]
STATIONS = ROOT / "docs" / "stations"
GOLDEN_FOLDER = Path(__file__).parent / "golden"
BLOCK = 8
"""Pixels; pictures are compared by the means of blocks this wide, so that letters whose edges
are smoothed another way count for nothing, and a missing wire for much."""

MOST_OFF = 0.06
"""By how much of full black a block may differ. A wire of one pixel makes 1 / 8."""

HOSTILE = "a$x^2$b<&>\"'--\\frac{1}{0}%\n\x07]]>"
CHROMIUM = "chromium"
MISSING = (
    "these tests open drawings in a browser, and `chromium` is not installed; on Debian and its "
    "relatives `apt-get install chromium` installs it"
)


def example(name: str, case: str = "base", rules: Sequence[type[Rule]] = ()) -> Sheet:
    """The sheet of an example station, or of one of its cases."""
    station = load(STATIONS / name).station
    assert station is not None
    cases = {each.title: each.station for each in station.cases}
    return sheet_of(cases.get(case, station), case, rules)


def hostile_station() -> Station:
    """Names that mean something to formulas, to SVG and to terminals, in every place for one."""
    station = load(STATIONS / "harbour_hill" / "harbour_hill.station").station
    assert station is not None

    def bad(device: str) -> str:
        return device + HOSTILE

    def end(ref: TerminalRef) -> TerminalRef:
        return TerminalRef(bad(ref.device), ref.terminal)

    def device(each: Device) -> Device:
        return replace(each, name=bad(each.name))

    def cable(each: Cable) -> Cable:
        return replace(
            each,
            name=bad(each.name),
            start=end(each.start),
            end=end(each.end),
            wire=each.wire + HOSTILE,
        )

    return replace(
        station,
        title=HOSTILE + "漢字 עברית 🙂",
        devices=tuple(device(each) for each in station.devices),
        cables=tuple(cable(each) for each in station.cables),
        bonds=(),
        data_leads=(),
    )


def grey(path: Path) -> FloatArray:
    """A picture in grey, 0 black to 1 white, as means of blocks."""
    pixels = np.asarray(matplotlib.image.imread(path), dtype=np.float64)[..., :3].mean(axis=2)
    rows, columns = (size // BLOCK for size in pixels.shape)
    cut = pixels[: rows * BLOCK, : columns * BLOCK]
    return np.asarray(cut.reshape(rows, BLOCK, columns, BLOCK).mean(axis=(1, 3)))


def difference(one: Path, other: Path) -> float:
    """The largest difference of a block, 1 if the sizes differ."""
    first, second = grey(one), grey(other)
    return float(np.abs(first - second).max()) if first.shape == second.shape else 1.0


GOLDEN = {
    ROOT / "docs" / "pictures" / "heron_bog_one_line.png": lambda: example(
        "heron_bog.station", rules=installed_rules().rules
    ),
    ROOT / "docs" / "pictures" / "harbour_hill_one_line.png": lambda: example(
        "harbour_hill/harbour_hill.station", "vehicle instead", installed_rules().rules
    ),
    GOLDEN_FOLDER / "one_line.png": lambda: example("hollow_tooth/hollow_tooth.station"),
    GOLDEN_FOLDER / "one_line_kits.png": lambda: sheet_of(station_of(kit_text(60))),
}


@pytest.mark.parametrize("golden", GOLDEN, ids=lambda path: path.stem)
def test_drawings_look_as_their_pictures_do(golden: Path, tmp_path: Path) -> None:
    drawn = tmp_path / "drawn.png"
    save_sheet(GOLDEN[golden](), drawn, golden.stem, dpi=100.0)
    if os.environ.get("COPPERPATH_UPDATE_PICTURES"):
        shutil.copy(drawn, golden)
    assert difference(drawn, golden) <= MOST_OFF


def test_a_drawing_without_one_of_its_devices_looks_different(tmp_path: Path) -> None:
    golden = ROOT / "docs" / "pictures" / "heron_bog_one_line.png"
    sheet = example("heron_bog.station", rules=installed_rules().rules)
    for lost in ("device phone", "cable fiver.out -> phone"):
        marks = tuple(mark for mark in sheet.marks if mark.group != lost)
        assert len(marks) < len(sheet.marks)
        drawn = tmp_path / "drawn.png"
        save_sheet(replace(sheet, marks=marks), drawn, "", dpi=100.0)
        assert difference(drawn, golden) > MOST_OFF


def test_the_same_station_is_drawn_byte_for_byte_the_same(tmp_path: Path) -> None:
    for suffix in ("svg", "pdf", "png"):
        one, two = tmp_path / f"one.{suffix}", tmp_path / f"two.{suffix}"
        save_sheet(example("heron_bog.station"), one, "t")
        save_sheet(example("heron_bog.station"), two, "t")
        assert one.read_bytes() == two.read_bytes()


def test_every_device_and_cable_is_found_once_in_the_svg(tmp_path: Path) -> None:
    station = load(STATIONS / "heron_bog.station").station
    assert station is not None
    path = tmp_path / "drawn.svg"
    save_sheet(sheet_of(station), path, "t")
    ids = [each.get("id", "") for each in ElementTree.parse(path).iter()]
    for device in station.devices:
        assert ids.count(f"device_{device.name}") == 1
    for cable in station.cables:
        assert ids.count(f"cable_{cable.name.replace(' ', '_')}") == 1


@pytest.mark.parametrize("suffix", ["svg", "png", "pdf"])
def test_hostile_names_are_drawn_as_they_are_written(suffix: str, tmp_path: Path) -> None:
    """No formula is read out of a `$`, no mark out of a `<`, and no warning is given."""
    path = tmp_path / f"drawn.{suffix}"
    station = hostile_station()
    sheet = sheet_of(station)
    save_sheet(sheet, path, station.title)
    assert path.stat().st_size > 1000
    if suffix == "svg":
        tags = {each.tag.rpartition("}")[2] for each in ElementTree.parse(path).iter()}
        assert not tags & {"script", "image", "a", "foreignObject", "text"}


def test_every_shade_of_writing_is_dark_on_white() -> None:
    """Contrast as WCAG 2 reckons it, 7 to 1 and more, so that a print in grey can be read."""
    for tone, shade in TONES.items():
        if tone in ("paper", ""):
            continue
        parts = [int(shade[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        light = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
        assert 1.05 / (light + 0.05) >= 7.0, tone


@pytest.fixture
def browser() -> str:
    """The browser's path; without one the test fails and says what to install."""
    found = shutil.which(CHROMIUM)
    assert found is not None, MISSING
    return found


@pytest.mark.parametrize("hostile", [False, True], ids=["example", "hostile"])
def test_a_browser_shows_the_svg_as_the_png(hostile: bool, browser: str, tmp_path: Path) -> None:
    sheet = sheet_of(hostile_station()) if hostile else example("heron_bog.station")
    drawn, shown, png = (tmp_path / name for name in ("drawn.svg", "shown.png", "drawn.png"))
    save_sheet(sheet, drawn, "t")
    # A browser has 96 pixels an inch.
    save_sheet(sheet, png, "t", dpi=96.0)
    height, width = matplotlib.image.imread(png).shape[:2]
    subprocess.run(
        [
            browser,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--hide-scrollbars",
            f"--user-data-dir={tmp_path / 'profile'}",
            f"--window-size={width + 40},{height + 40}",
            f"--screenshot={shown}",
            drawn.as_uri(),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    picture = grey(shown)
    wanted = grey(png)
    seen = picture[: wanted.shape[0], : wanted.shape[1]]
    # Two programs smooth thin lines in their own ways: a block may be off by one wire's width,
    # and the whole hardly at all.
    assert float(np.abs(seen - wanted).mean()) < 0.01
    assert float(np.corrcoef(seen.ravel(), wanted.ravel())[0, 1]) > 0.95
