"""The grammar file itself: free of conflicts, and quick to build and to use."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from lark import Lark

from copperpath_grammar.lexing import START_RULES, grammar_text, lark_parser

LIGHT_ONLY = """
import sys
from copperpath_grammar import parse
assert not parse("load lamp : steady { power 3 W }").diagnostics
heavy = {"numpy", "pandas", "scipy", "numba", "pvlib", "pint", "rich", "pygments"}
heavy &= set(sys.modules)
sys.exit(f"imported: {heavy}" if heavy else 0)
"""


def test_the_grammar_has_no_conflict_that_is_resolved_silently() -> None:
    Lark(grammar_text(), parser="lalr", lexer="basic", start=list(START_RULES), strict=True)


def test_the_parser_is_built_once() -> None:
    assert lark_parser() is lark_parser()


def test_parsing_imports_nothing_heavy() -> None:
    subprocess.run([sys.executable, "-c", LIGHT_ONLY], check=True)


@pytest.mark.parametrize("content", [None, b"", b"no tables at all"])
def test_missing_or_damaged_tables_in_the_cache_are_made_anew(
    tmp_path: Path, content: bytes | None
) -> None:
    tables = tmp_path / "copperpath" / "grammar-{}.{}.tables".format(*sys.version_info)
    if content is not None:
        tables.parent.mkdir()
        tables.write_bytes(content)
    for _ in range(2):
        done = subprocess.run(
            [sys.executable, "-c", LIGHT_ONLY],
            check=True,
            capture_output=True,
            env={**os.environ, "XDG_CACHE_HOME": str(tmp_path)},
        )
        assert done.stderr == b""
    assert tables.stat().st_size > 10_000


def test_no_place_for_a_cache_is_no_hindrance() -> None:
    environment = {**os.environ, "XDG_CACHE_HOME": os.devnull}
    subprocess.run([sys.executable, "-c", LIGHT_ONLY], check=True, env=environment)
