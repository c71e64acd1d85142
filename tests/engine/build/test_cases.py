"""Every mistake of building gets the message that stands beside it in the case files."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.cases import case_name, cases_in, check_case, files_beside, read_case, stray_outputs

from copperpath.build import build
from copperpath.catalogue import installed_catalogue
from copperpath_grammar import parse, render

CASES = Path(__file__).parent / "cases"
CATALOGUE = installed_catalogue()


def shown(text: str, name: str) -> str:
    """All that the builder says about a text that the parser has nothing to say about."""
    parsed = parse(text, name)
    assert parsed.diagnostics == ()
    assert parsed.file is not None
    return render(build(parsed.file, parsed.source, CATALOGUE, files_beside(CASES)).diagnostics)


@pytest.mark.parametrize("case", cases_in(CASES), ids=case_name)
def test_a_mistake_gets_its_message(case: Path) -> None:
    check_case(case, shown)


@pytest.mark.parametrize("case", cases_in(CASES), ids=case_name)
def test_messages_fit_eighty_columns(case: Path) -> None:
    assert max(len(line) for line in shown(read_case(case), case.name).splitlines()) <= 80


def test_no_output_is_left_without_its_text() -> None:
    assert stray_outputs(CASES) == []
