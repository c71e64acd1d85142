"""A client of the protocol speaks with `copperpath editor` over its pipes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from support.building import SMALL
from support.editor_client import Client, Refusal, place_of, uri_of

UNSAVED = "untitled:Untitled-1"


@pytest.fixture
def client() -> Iterator[Client]:
    with Client() as one:
        one.begin()
        yield one


def changed(text: str, edits: list[dict[str, Any]]) -> str:
    """A text after the edits of an answer; one a line, as renames of the small station are not."""
    lines = text.splitlines(keepends=True)
    for edit in sorted(edits, key=lambda each: str(each["range"]["start"]), reverse=True):
        start, end = edit["range"]["start"], edit["range"]["end"]
        assert start["line"] == end["line"]
        line = lines[start["line"]]
        lines[start["line"]] = (
            line[: start["character"]] + edit["newText"] + line[end["character"] :]
        )
    return "".join(lines)


def test_the_server_says_what_it_can_do_and_ends_well() -> None:
    with Client() as client:
        known = {"textDocument": {"rename": {"prepareSupport": True}}}
        able = client.begin(known)["capabilities"]
        assert able["positionEncoding"] == "utf-16"
        assert able["completionProvider"]["triggerCharacters"]
        for name in ("hover", "definition", "references", "documentSymbol", "documentFormatting"):
            assert able[f"{name}Provider"], name
        assert able["renameProvider"]["prepareProvider"]
        assert client.end() == 0
    assert client.stray == b""


def test_places_stay_in_utf_16_whatever_else_the_editor_offers() -> None:
    with Client() as client:
        offered = {"general": {"positionEncodings": ["utf-32", "utf-8", "utf-16"]}}
        assert client.begin(offered)["capabilities"]["positionEncoding"] == "utf-16"
        assert client.end() == 0


def test_mistakes_come_when_a_text_is_opened_and_go_when_it_is_mended(client: Client) -> None:
    found = client.open(UNSAVED, SMALL.replace("12 Ah", "12 A"))
    assert [each["code"] for each in found] == ["build/wrong-dimension"]
    assert found[0]["severity"] == 1
    assert found[0]["source"] == "copperpath"
    assert found[0]["range"]["start"]["line"] == place_of(SMALL, "12 Ah")[0]
    client.change(UNSAVED, SMALL, 2)
    assert client.mistakes(UNSAVED) == []
    client.change(UNSAVED, SMALL[:-20], 3)
    assert client.mistakes(UNSAVED) != []
    client.tell("textDocument/didClose", {"textDocument": {"uri": UNSAVED}})
    assert client.mistakes(UNSAVED) == []
    assert client.end() == 0


def test_while_somebody_types_not_every_letter_is_checked(client: Client) -> None:
    client.open(UNSAVED, SMALL)
    ends = range(len(SMALL) - 40, len(SMALL) + 1)
    for version, end in enumerate(ends, 2):
        client.change(UNSAVED, SMALL[:end], version)
    checks = 1
    while client.mistakes(UNSAVED):
        checks += 1
    assert checks < len(ends) / 2


def test_related_places_are_told_with_their_file(client: Client, tmp_path: Path) -> None:
    uri = uri_of(tmp_path / "a b.station")
    found = client.open(uri, SMALL + "load Pack : steady { power 3 W }\n")
    related = found[0]["relatedInformation"]
    assert related[0]["location"]["uri"].replace("%20", " ") == uri.replace("%20", " ")
    assert related[0]["location"]["range"]["start"]["line"] == place_of(SMALL, "storage pack")[0]


def test_completion_works_in_a_half_typed_text(client: Client) -> None:
    text = SMALL + "load lamp : steady { cu"
    client.open(UNSAVED, text)
    line, character = text.count("\n"), len("load lamp : steady { cu")
    items = client.at("completion", UNSAVED, (line, character))["items"]
    chosen = next(each for each in items if each["label"] == "current")
    assert chosen["textEdit"]["newText"] == "current "
    assert chosen["textEdit"]["range"]["start"] == {"line": line, "character": character - 2}
    assert chosen["documentation"]["kind"] == "markdown"


def test_completion_follows_a_change_at_once(client: Client) -> None:
    client.open(UNSAVED, SMALL)
    text = SMALL + "require rig."
    client.change(UNSAVED, text, 2)
    place = (text.count("\n"), len("require rig."))
    labels = [each["label"] for each in client.at("completion", UNSAVED, place)["items"]]
    assert "voltage" in labels


def test_hover_tells_what_a_word_is(client: Client) -> None:
    client.open(UNSAVED, SMALL)
    found = client.at("hover", UNSAVED, place_of(SMALL, "capacity"))
    assert "**capacity**" in found["contents"]["value"]
    assert client.at("hover", UNSAVED, (0, 0))["contents"]["value"].startswith("**station**")
    assert client.at("hover", UNSAVED, (999, 0)) is None


def test_a_name_leads_to_its_declaration_and_its_uses(client: Client) -> None:
    client.open(UNSAVED, SMALL)
    place = place_of(SMALL, "rig { length")
    (found,) = client.at("definition", UNSAVED, place)
    assert found["uri"] == UNSAVED
    line, character = place_of(SMALL, "load rig")
    assert found["range"]["start"] == {"line": line, "character": character + len("load ")}
    more = {"context": {"includeDeclaration": True}}
    assert len(client.at("references", UNSAVED, place, **more)) == 2


def test_a_device_is_renamed_across_the_text(client: Client) -> None:
    client.open(UNSAVED, SMALL)
    place = place_of(SMALL, "pack : lfp")
    span = client.at("prepareRename", UNSAVED, place)
    assert span["end"]["character"] - span["start"]["character"] == len("pack")
    found = client.at("rename", UNSAVED, place, newName="bank")
    after = changed(SMALL, found["changes"][UNSAVED])
    assert after == SMALL.replace("pack", "bank")
    client.change(UNSAVED, after, 2)
    assert client.mistakes(UNSAVED) == []


def test_a_name_that_will_not_do_is_refused_in_words(client: Client) -> None:
    client.open(UNSAVED, SMALL)
    with pytest.raises(Refusal, match="there is a device `rig` already"):
        client.at("rename", UNSAVED, place_of(SMALL, "pack : lfp"), newName="rig")
    with pytest.raises(Refusal, match="no name that this file gives"):
        client.at("prepareRename", UNSAVED, (0, 0))
    assert client.end() == 0


def test_the_contents_are_listed(client: Client) -> None:
    client.open(UNSAVED, SMALL)
    found = client.ask("textDocument/documentSymbol", {"textDocument": {"uri": UNSAVED}})
    assert [each["name"] for each in found] == ["Bog", "pack", "rig", "pack -> rig"]


def test_a_text_is_formatted(client: Client) -> None:
    client.open(UNSAVED, SMALL.replace("load rig", "load     rig"))
    options = {"tabSize": 8, "insertSpaces": False}
    asked = {"textDocument": {"uri": UNSAVED}, "options": options}
    edits = client.ask("textDocument/formatting", asked)
    assert any("load    rig" in each["newText"] for each in edits)
    client.change(UNSAVED, SMALL + "cable pack ->", 2)
    assert client.ask("textDocument/formatting", asked) == []


def test_a_saved_file_that_a_station_names_is_looked_at_again(
    client: Client, tmp_path: Path
) -> None:
    text = SMALL.replace("sky clear", 'sky "sun.csv"')
    uri = uri_of(tmp_path / "bog.station")
    assert len(client.open(uri, text)) == 1
    rows = "".join(f"2026-06-{day}T00:00:00+03:00,200\n" for day in (18, 19, 20, 21, 22, 23))
    (tmp_path / "sun.csv").write_text("time,plane [W/m2]\n" + rows)
    client.tell("textDocument/didSave", {"textDocument": {"uri": uri}})
    assert client.mistakes(uri) == []


def test_a_plugin_that_prints_does_not_spoil_the_protocol(tmp_path: Path) -> None:
    plugin = tmp_path / "lamp.py"
    plugin.write_text(
        "from copperpath.plugin_api import Model, Terminal\n"
        "print('hello')\n\n\n"
        "class Lamp(Model):\n"
        "    interface = 1\n"
        "    name = 'lamp'\n"
        "    kind = 'load'\n"
        "    summary = 'a lamp'\n"
        "    terminals = (Terminal('line', 'its supply', main=True),)\n"
        "    law = staticmethod(lambda v, x, d, p: (0.0 * v.line,))\n"
    )
    with Client("--plugin", str(plugin)) as client:
        client.begin()
        client.open(UNSAVED, "load a : lamp { }\n")
        items = client.at("completion", UNSAVED, (0, len("load a : ")))["items"]
        assert "lamp" in [each["label"] for each in items]
        assert client.end() == 0
    assert client.stray == b""
    assert b"hello" in client.errors
