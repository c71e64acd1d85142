"""Every mistake that can be told has its page, and both examples of a page do what it says.

`COPPERPATH_UPDATE_DOCS=1 pytest tests/project/test_mistake_pages.py` takes the printed messages
anew; read the difference before committing it.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from support.mistakes import mistake_classes, mistakes_of

from copperpath.report.explain_screen import explain_screen
from copperpath.report.layout import WIDTH
from copperpath.report.mistake_pages import (
    MistakePage,
    index_page,
    page_files,
    pages_by_group,
    read_page,
)
from copperpath_grammar import Diagnostic, render
from copperpath_grammar.formatter import format_text

FILES = page_files()
WITH_OTHERS = ("syntax/too-many-mistakes", "build/more-mistakes")
"""Codes that cannot come alone."""


def found_in(page: MistakePage, folder: Path) -> tuple[Diagnostic, ...]:
    return mistakes_of(page.code, page.wrong, folder)


def with_printed(page: MistakePage, printed: str) -> MistakePage:
    """The page read anew after this has been written into it."""
    head, rest = page.file.read_text(encoding="utf-8").split("\n## Printed\n", 1)
    _, tail = rest.split("\n## Right\n", 1)
    text = f"{head}\n## Printed\n\n```text\n{printed}\n```\n\n## Right\n{tail}"
    page.file.write_text(text, encoding="utf-8")
    return read_page(page.file)


def test_every_mistake_has_its_page() -> None:
    missing = sorted(set(mistake_classes()) - set(FILES))
    assert missing == [], f"write a page mistakes/FOLDER/NAME.md for {', '.join(missing)}"


def test_every_page_is_about_a_mistake_that_there_is() -> None:
    assert sorted(set(FILES) - set(mistake_classes())) == []


def test_no_code_stands_for_two_mistakes() -> None:
    shared = [code for code, classes in mistake_classes().items() if len(classes) > 1]
    assert shared == []


@pytest.mark.parametrize("code", FILES)
def test_a_page_bears_the_code_of_its_file(code: str) -> None:
    assert read_page(FILES[code]).code == code


@pytest.mark.parametrize("code", FILES)
def test_the_wrong_text_of_a_page_has_that_mistake_and_no_other(code: str, tmp_path: Path) -> None:
    found = {each.code for each in found_in(read_page(FILES[code]), tmp_path)}
    if code in WITH_OTHERS:
        assert code in found
    else:
        assert found == {code}


@pytest.mark.parametrize("code", FILES)
def test_a_page_shows_what_is_printed(code: str, tmp_path: Path) -> None:
    page = read_page(FILES[code])
    printed = render([each for each in found_in(page, tmp_path) if each.code == code])
    if os.environ.get("COPPERPATH_UPDATE_DOCS"):
        page = with_printed(page, printed)
    assert page.printed == printed


@pytest.mark.parametrize("code", FILES)
def test_the_right_text_of_a_page_has_no_mistake(code: str, tmp_path: Path) -> None:
    page = read_page(FILES[code])
    found_in(page, tmp_path)  # its files are there already
    assert render(mistakes_of(code, page.right, tmp_path)) == ""


@pytest.mark.parametrize("code", FILES)
def test_the_right_text_of_a_page_has_the_canonical_form(code: str) -> None:
    station = read_page(FILES[code]).right.station
    assert format_text(station).text == station


@pytest.mark.parametrize("code", FILES)
def test_an_explanation_fits_eighty_columns(code: str) -> None:
    lines = explain_screen(read_page(FILES[code])).splitlines()
    assert [line for line in lines if len(line) > WIDTH] == []


def test_every_page_is_listed_under_a_heading() -> None:
    listed = [page.code for _, pages in pages_by_group() for page in pages]
    assert sorted(listed) == sorted(FILES)
    index = index_page()
    assert [code for code in FILES if f"[`{code}`]({code}.md)" not in index] == []
