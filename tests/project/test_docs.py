"""Every station and every command in the pages works as shown.

`COPPERPATH_UPDATE_DOCS=1 pytest tests/project/test_docs.py` takes the shown outputs anew; read
the difference before committing it.
"""

from __future__ import annotations

import os
import re
import shutil
from importlib.metadata import EntryPoint
from pathlib import Path

import pytest
from support.pages import (
    ROOT,
    STATIONS,
    Block,
    alike,
    blocks,
    canonical,
    commands,
    is_whole,
    outcome,
    pages,
    updated,
)

PAGES = pages()
STATION_BLOCKS = [each for page in PAGES for each in blocks(page) if each.language == "station"]


@pytest.fixture
def desk(tmp_path: Path) -> Path:
    """A folder like the one a reader sits in: the example stations at hand."""
    shutil.copytree(STATIONS, tmp_path / "docs" / "stations")
    return tmp_path


def put_files(page: Path, folder: Path) -> None:
    """Write the station blocks that the page names a file for."""
    for block in blocks(page):
        if block.file:
            (folder / block.file).write_text(block.text, encoding="utf-8")


@pytest.mark.parametrize("block", STATION_BLOCKS, ids=str)
def test_station_texts_in_the_pages_are_correct(block: Block, desk: Path) -> None:
    """A whole file is built; a piece must at least be good language."""
    from copperpath_grammar.parser import parse
    from copperpath_grammar.render_text import render

    if is_whole(block):
        from copperpath.pipeline import load

        file = desk / "docs" / "stations" / (block.file or "shown.station")
        file.write_text(block.text, encoding="utf-8")
        loaded = load(file)
        assert loaded.station is not None, render(loaded.diagnostics)
        return
    alone = parse(block.text)
    inside = parse(f"part shown : model {{\n{block.text}\n}}")
    assert not alone.diagnostics or not inside.diagnostics, render(alone.diagnostics)


@pytest.mark.parametrize("block", STATION_BLOCKS, ids=str)
def test_station_texts_in_the_pages_have_the_canonical_form(block: Block) -> None:
    if not os.environ.get("COPPERPATH_UPDATE_DOCS"):
        assert block.text == canonical(block)


def test_the_page_on_formatting_shows_what_the_command_makes_of_its_text() -> None:
    from copperpath_grammar.formatter import format_text

    text = (ROOT / "docs" / "formatting.md").read_text(encoding="utf-8")
    pair = r"^```text\n(.*?)^```\n\nbecomes\n\n```station\n(.*?)^```$"
    ((loose, form),) = re.findall(pair, text, re.MULTILINE | re.DOTALL)
    assert format_text(loose).text == form


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_commands_in_the_pages_print_what_is_shown(page: Path, desk: Path) -> None:
    put_files(page, desk)
    if os.environ.get("COPPERPATH_UPDATE_DOCS"):
        page.write_text(updated(page, desk), encoding="utf-8")
    for block in blocks(page):
        if block.language == "console":
            for command, shown in commands(block):
                printed = outcome(command, desk)
                assert alike(shown, printed), f"{block}: $ {command}\n{printed}"


def test_the_model_shown_to_plugin_authors_works(desk: Path) -> None:
    text = (ROOT / "docs" / "plugin_authors.md").read_text(encoding="utf-8")
    shown = re.findall(r"^```python\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    (desk / "lamp.py").write_text(shown[0], encoding="utf-8")
    station = (STATIONS / "heron_bog.station").read_text(encoding="utf-8") + (
        "load lamp : lamp { power 2 W; on 20:00 to 23:00 }\n"
        "cable strip.3 -> lamp { length 1 m; wire 0.75 mm2; fuse 3 A at strip }\n"
    )
    (desk / "lit.station").write_text(station, encoding="utf-8")
    printed = outcome("copperpath run lit.station --plugin lamp.py", desk)
    assert "\n  lamp " in printed


def test_the_model_shown_to_plugin_authors_conforms(desk: Path) -> None:
    text = (ROOT / "docs" / "plugin_authors.md").read_text(encoding="utf-8")
    shown = re.findall(r"^```python\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    (desk / "lamp.py").write_text(shown[0], encoding="utf-8")
    printed = outcome("copperpath conform lamp --plugin lamp.py", desk)
    assert printed.startswith("lamp (load) conforms")


def test_the_rule_shown_to_plugin_authors_is_found_and_its_remedy_clears_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from copperpath.inquiry.judge import judge
    from copperpath.inquiry.rule_catalogue import GROUP, rules_from
    from copperpath.pipeline import load

    text = (ROOT / "docs" / "plugin_authors.md").read_text(encoding="utf-8")
    (rule,) = re.findall(r"^```python\n([^`]*\(Rule\):.*?)^```$", text, re.MULTILINE | re.DOTALL)
    (listed,) = re.findall(rf'^\[project.entry-points."{GROUP}"\]\n(\w+) = "(.*)"$', text, re.M)
    package = tmp_path / "my_package"
    package.mkdir()
    (package / "__init__.py").touch()
    (package / f"{listed[0]}.py").write_text(rule, encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    found = rules_from([EntryPoint(listed[0], listed[1], GROUP)])
    assert found.problems == ()

    station = load(STATIONS / "heron_bog.station").station
    assert station is not None
    told = [each for each in judge(station, found.rules) if each.rule == "stout-battery-lead"]
    # Its battery has leads of 2.5 and of 4 mm².
    assert [each.subject for each in told] == ["regulator.battery -> pack"]
    assert told[0].yields == "4.00 mm², limit 4.00 mm²"


def test_every_example_station_is_built_without_a_mistake() -> None:
    from copperpath.pipeline import load
    from copperpath_grammar.render_text import render

    for file in sorted(STATIONS.rglob("*.station")):
        loaded = load(file)
        assert loaded.station is not None, render(loaded.diagnostics)
