"""Files that a station includes: their names are known, and their mistakes are told as theirs."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.building import SITE
from support.editor_client import Client, uri_of
from support.editor_texts import CATALOGUE

from copperpath.build.include.libraries import libraries
from copperpath.editor.completion import complete
from copperpath.editor.definition import definitions, references
from copperpath.editor.desk import Desk
from copperpath.editor.hover import hover
from copperpath.editor.mistakes import Mistake, mistakes_in
from copperpath.editor.reading import Reading, read
from copperpath.editor.rename import RenameRefused, rename
from copperpath.editor.shared import forget

RADIOS = """let run = 2 m
part handy : transceiver { receive 0.1 A; transmit 1 A; transmitting 10 % }
assembly desk(most) {
    block strip : strip { ways 2; rating most }
    expose in -> strip.in
}
"""
MAIN = (
    'include "parts/radios.station"\n'
    + SITE
    + """storage pack : lfp { capacity 12 Ah }
load rig : handy { }
kit table : desk { most 20 A }
cable pack -> rig { length run; wire 1.5 mm2; fuse 10 A at pack }
cable pack -> table.in { length run; wire 1.5 mm2; fuse 10 A at pack }
"""
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the shared file in it."""
    forget()
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "radios.station").write_text(RADIOS)
    return tmp_path


def main(folder: Path, text: str = MAIN) -> tuple[Reading, int]:
    """The main file as it is open, and where its `|` stood."""
    plain = text.replace("|", "")
    name = str(folder / "main.station")
    return read(plain, name, folder, CATALOGUE), text.find("|")


def proposed(folder: Path, line: str) -> list[str]:
    return [each.label for each in complete(*main(folder, MAIN + line)).suggestions]


def test_a_good_station_with_shared_files_has_no_mistakes(folder: Path) -> None:
    assert mistakes_in(main(folder)[0]) == {str(folder / "main.station"): []}


def test_shared_parts_assemblies_and_values_are_proposed(folder: Path) -> None:
    assert "handy" in proposed(folder, "load more : |")
    assert proposed(folder, "kit more : |") == ["desk"]
    assert "run" in proposed(folder, "cable pack -> rig { length |")
    assert "receive" in proposed(folder, "load more : handy { |")
    assert proposed(folder, "kit more : desk { |") == ["most"]


def test_libraries_are_proposed_by_name(folder: Path) -> None:
    assert proposed(folder, "include library |") == list(libraries())
    assert proposed(folder, 'include library "|') == list(libraries())


def test_a_definition_leads_into_the_shared_file(folder: Path) -> None:
    (found,) = definitions(*main(folder, MAIN.replace("rig : handy", "rig : ha|ndy")))
    assert found.source.name == str(folder / "parts" / "radios.station")
    assert found.line == 2
    places = references(*main(folder, MAIN.replace(": desk", ": de|sk")), declarations=True)
    assert [Path(each.source.name).name for each in places] == ["main.station", "radios.station"]


def test_a_definition_at_an_include_line_is_the_file(folder: Path) -> None:
    (found,) = definitions(*main(folder, MAIN.replace("radios", "rad|ios", 1)))
    assert found.source.name == str(folder / "parts" / "radios.station")
    assert (found.start, found.end) == (0, 0)


def test_hover_tells_a_shared_part(folder: Path) -> None:
    found = hover(*main(folder, MAIN.replace("rig : handy", "rig : ha|ndy")))
    assert found is not None
    assert "- receive 0.1 A" in found.text


def test_a_shared_name_is_not_renamed_from_here(folder: Path) -> None:
    with pytest.raises(RenameRefused, match=r"radios\.station as well \(line 2\)"):
        rename(*main(folder, MAIN.replace("rig : handy", "rig : ha|ndy")), "walkie")


def test_a_name_of_this_file_alone_is_renamed(folder: Path) -> None:
    assert len(rename(*main(folder, MAIN.replace("load rig", "load r|ig")), "radio")) == 2


def test_a_file_of_parts_open_by_itself_wants_no_station(folder: Path) -> None:
    name = str(folder / "parts" / "radios.station")
    assert mistakes_in(read(RADIOS, name, folder / "parts", CATALOGUE)) == {name: []}
    wrong = RADIOS.replace("0.1 A", "0.1 V")
    assert len(mistakes_in(read(wrong, name, folder / "parts", CATALOGUE))[name]) == 1


def test_mistakes_in_a_shared_file_are_told_as_its_own_and_once(folder: Path) -> None:
    parts = folder / "parts" / "radios.station"
    parts.write_text(RADIOS.replace("0.1 A", "0.1 V") + "load here : handy { }\n")
    name = str(folder / "main.station")
    desk = Desk(CATALOGUE)
    told: dict[str, list[Mistake]] = {}
    desk.put(name, MAIN, folder)
    desk.check(name, told.__setitem__)
    assert told[name] == []
    assert [each.code for each in told[str(parts)]] == [
        "build/wrong-dimension",
        "build/not-connected",
    ]
    desk.put(str(parts), parts.read_text(), parts.parent)
    desk.check(str(parts), told.__setitem__)
    assert len(told[str(parts)]) == 2
    desk.close(name, told.__setitem__)
    assert "build/no-station" in [each.code for each in told[str(parts)]]
    desk.close(str(parts), told.__setitem__)
    assert told == {name: [], str(parts): []}


def test_a_shared_file_opened_first_is_judged_anew_by_the_station(folder: Path) -> None:
    parts = folder / "parts" / "radios.station"
    text = RADIOS + "load here : handy { }\n"
    parts.write_text(text)
    desk = Desk(CATALOGUE)
    told: dict[str, list[Mistake]] = {}
    desk.put(str(parts), text, parts.parent)
    desk.check(str(parts), told.__setitem__)
    assert "build/no-station" in [each.code for each in told[str(parts)]]
    name = str(folder / "main.station")
    desk.put(name, MAIN + "cable pack -> here { length run; wire 1.5 mm2 }\n", folder)
    desk.check(name, told.__setitem__)
    assert told == {name: [], str(parts): []}


def test_the_server_tells_the_mistakes_of_a_shared_file_with_its_address(folder: Path) -> None:
    parts = folder / "parts" / "radios.station"
    parts.write_text(RADIOS.replace("0.1 A", "0.1 V"))
    with Client() as client:
        client.begin()
        uri = uri_of(folder / "main.station")
        assert client.open(uri, MAIN) == []
        assert len(client.mistakes(uri_of(parts))) == 1
        parts.write_text(RADIOS)
        client.tell("textDocument/didSave", {"textDocument": {"uri": uri_of(parts)}})
        assert client.mistakes(uri) == []
        assert client.mistakes(uri_of(parts)) == []
        assert client.end() == 0
