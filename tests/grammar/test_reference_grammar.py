"""The grammar file itself: free of conflicts, and quick to build and to use."""

from __future__ import annotations

import subprocess
import sys

from lark import Lark

from copperpath_grammar.lexing import START_RULES, grammar_text, lark_parser

LIGHT_ONLY = """
import sys
from copperpath_grammar import parse
assert not parse("load lamp : steady { power 3 W }").diagnostics
heavy = {"numpy", "pandas", "scipy", "numba", "pvlib", "pint", "rich"} & set(sys.modules)
sys.exit(f"imported: {heavy}" if heavy else 0)
"""


def test_the_grammar_has_no_conflict_that_is_resolved_silently() -> None:
    Lark(grammar_text(), parser="lalr", lexer="basic", start=list(START_RULES), strict=True)


def test_the_parser_is_built_once() -> None:
    assert lark_parser() is lark_parser()


def test_parsing_imports_nothing_heavy() -> None:
    subprocess.run([sys.executable, "-c", LIGHT_ONLY], check=True)
