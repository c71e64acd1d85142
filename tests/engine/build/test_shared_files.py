"""Shared files: what may be included, and that nothing of it is run."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.building import SITE

from copperpath.build.include.libraries import libraries
from copperpath.build.include.shelf import library_of_parts
from copperpath.pipeline import Loaded, load, load_text

LAMP = """storage pack : lfp { capacity 12 Ah }
load lamp : bulb { mass 0.1 kg }
cable pack -> lamp { length 1 m; wire 1.5 mm2; fuse 3 A at pack }
"""
BULB = "part bulb : steady { power 2 W }\n"


def loaded(folder: Path, **files: str) -> Loaded:
    """The station in `main`; further files by their names, `__` for a folder."""
    for name, text in files.items():
        path = folder / f"{name.replace('__', '/')}.station"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return load(folder / "main.station")


def codes(found: Loaded) -> list[str]:
    return [each.code for each in found.diagnostics]


def test_an_included_part_is_there(tmp_path: Path) -> None:
    main = f'include "parts/lamps.station"\n{SITE}{LAMP}'
    found = loaded(tmp_path, main=main, parts__lamps=BULB)
    assert found.station is not None
    assert found.station.device("lamp").values["power"] == 2.0


def test_a_path_begins_at_the_file_that_names_it(tmp_path: Path) -> None:
    main = f'include "parts/all.station"\n{SITE}{LAMP}'
    found = loaded(
        tmp_path, main=main, parts__all='include "more/lamps.station"\n', parts__more__lamps=BULB
    )
    assert found.station is not None


def test_a_file_included_by_two_ways_is_read_once(tmp_path: Path) -> None:
    main = f'include "a.station"\ninclude "b.station"\ninclude "a.station"\n{SITE}{LAMP}'
    b = 'include "a.station"\n'
    assert loaded(tmp_path, main=main, a=BULB, b=b).station is not None


def test_an_included_file_may_hold_devices_and_requirements(tmp_path: Path) -> None:
    rest = f"{BULB}{LAMP}require lamp powered throughout\n"
    found = loaded(tmp_path, main=f'{SITE}include "rest.station"\n', rest=rest)
    assert found.station is not None
    assert len(found.station.requirements) == 1


def test_mistakes_are_shown_in_the_order_of_the_files(tmp_path: Path) -> None:
    main = f'include "b.station"\ninclude "a.station"\n{SITE}{LAMP}let x = 1 m\n'
    bad = "part p{} : steady {{ power 2 V }}\n"
    found = loaded(tmp_path, main=main, a=BULB + bad.format(1), b=bad.format(2))
    places = [Path(each.span.source.name).name for each in found.diagnostics]
    assert places == ["main.station", "b.station", "a.station"]
    assert found.diagnostics[2].span.line == 2


def test_one_lost_file_makes_no_other_mistakes(tmp_path: Path) -> None:
    found = loaded(tmp_path, main=f'include "lamps.station"\n{SITE}{LAMP}')
    assert codes(found) == ["build/cannot-include"]


def test_a_text_without_a_file_includes_none() -> None:
    found = load_text(f'include "lamps.station"\n{SITE}{LAMP}')
    assert codes(found) == ["build/cannot-include"]


@pytest.mark.parametrize("line", ['station "Other" { }', 'case "x" { air 1 degC .. 2 degC }'])
def test_the_station_and_its_cases_stand_in_the_main_file(tmp_path: Path, line: str) -> None:
    main = f'include "lamps.station"\n{SITE}{LAMP}'
    found = loaded(tmp_path, main=main, lamps=f"{BULB}{line}\n")
    assert codes(found) == ["build/not-in-this-file"]


def test_an_assembly_may_come_from_a_file(tmp_path: Path) -> None:
    box = f"{BULB}assembly box {{\n load lamp : bulb {{ }}\n expose in -> lamp\n}}\n"
    main = f"""include "box.station"
{SITE}storage pack : lfp {{ capacity 12 Ah }}
kit a[2] : box {{ }}
cable pack -> a[1..2] {{ length 1 m; wire 1.5 mm2; fuse 3 A at pack }}
"""
    found = loaded(tmp_path, main=main, box=box)
    assert found.station is not None
    assert [each.name for each in found.station.devices] == ["pack", "a[1].lamp", "a[2].lamp"]


# ---- libraries ------------------------------------------------------------

LIBRARY = f"""{BULB}part other : steady {{ power other_power }}
let other_power = 3 V
assembly box(rating) {{
    block strip : strip {{ ways 2; rating rating }}
    load lamp : bulb {{ }}
    cable strip.1 -> lamp {{ length 1 m; wire 1.5 mm2 }}
    expose in -> strip.in
}}
"""


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """The folder of an installed package that lists four libraries, and fails if it is imported."""
    home = tmp_path / "installed"
    folder = home / "lamp_parts" / "sheets"
    folder.mkdir(parents=True)
    (home / "lamp_parts" / "__init__.py").write_text("raise SystemExit('imported')\n")
    (folder / "lamps.station").write_text(LIBRARY, encoding="utf-8")
    (home / "secret.station").write_text(BULB, encoding="utf-8")
    (folder / "link.station").symlink_to(home / "secret.station")
    about = home / "lamp_parts-1.0.dist-info"
    about.mkdir()
    (about / "METADATA").write_text("Metadata-Version: 2.1\nName: lamp-parts\nVersion: 1.0\n")
    (about / "entry_points.txt").write_text(
        "[copperpath.parts]\n"
        "lamps = lamp_parts.sheets:lamps.station\n"
        "lost = lamp_parts.sheets:lost.station\n"
        "linked = lamp_parts.sheets:link.station\n"
        "odd = lamp_parts\n"
    )
    monkeypatch.syspath_prepend(str(home))
    libraries.cache_clear()
    library_of_parts.cache_clear()
    yield folder
    libraries.cache_clear()
    library_of_parts.cache_clear()


def with_library(name: str, rest: str = LAMP) -> Loaded:
    return load_text(f'include library "{name}"\n{SITE}{rest}')


def test_a_library_is_read_and_its_package_not_imported(package: Path) -> None:
    found = with_library("lamps")
    assert codes(found) == []
    assert "lamp_parts" not in sys.modules


def test_what_no_device_names_of_a_library_is_not_looked_at(package: Path) -> None:
    """`other` is wrong and its value used by nothing else."""
    assert codes(with_library("lamps")) == []
    assert codes(with_library("lamps", LAMP.replace("bulb", "other"))) == ["build/wrong-dimension"]


def test_a_library_may_hold_assemblies(package: Path) -> None:
    rest = """storage pack : lfp { capacity 12 Ah }
kit table : box { rating 5 A }
cable pack -> table { length 1 m; wire 1.5 mm2; fuse 3 A at pack }
"""
    found = with_library("lamps", rest)
    assert found.station is not None
    assert found.station.device("table.lamp").values["power"] == 2.0


@pytest.mark.parametrize("name", ["lost", "linked", "odd"])
def test_a_broken_library_is_its_package_s_fault(package: Path, name: str) -> None:
    found = with_library(name)
    assert codes(found) == ["build/broken-library"]
    assert "lamp-parts" in found.diagnostics[0].message


def test_a_part_of_a_library_that_is_not_included_is_told_with_its_library(package: Path) -> None:
    (problem,) = load_text(f"{SITE}{LAMP}").diagnostics
    assert problem.code == "build/unknown-model"
    assert problem.help.endswith('add a line `include library "lamps"`')


def test_broken_libraries_are_passed_over_where_parts_are_looked_up(package: Path) -> None:
    assert library_of_parts()["bulb"] == "lamps"
    assert not {"lost", "linked", "odd"} & set(library_of_parts().values())


def test_an_unknown_library_lists_the_nearest_first(package: Path) -> None:
    (problem,) = with_library("lamp").diagnostics
    assert problem.code == "build/unknown-library"
    assert problem.help.startswith("there are `lamps`, ")


@pytest.mark.parametrize("line", ["load x : steady { power 1 W }", 'include library "lamps"'])
def test_a_library_holds_sheets_and_no_devices(package: Path, line: str) -> None:
    (package / "lamps.station").write_text(f"{LIBRARY}{line}\n", encoding="utf-8")
    assert codes(with_library("lamps")) == ["build/not-in-this-file"]


def test_every_library_that_comes_along_can_be_read() -> None:
    assert "panels" in libraries()
    for name in libraries():
        found = load_text(f'include library "{name}"\n{BULB}{SITE}{LAMP}')
        assert codes(found) == [], name


def test_a_folder_outside_is_not_looked_through_for_names(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    (tmp_path / "secret.station").write_text("let a = 1 m\n", encoding="utf-8")
    (home / "up").symlink_to(tmp_path)
    loaded = load_text(SITE + 'include "up/secre.station"\n', folder=home)
    assert all("secret" not in each.message for each in loaded.diagnostics)
    assert loaded.diagnostics[0].code == "build/cannot-include"
