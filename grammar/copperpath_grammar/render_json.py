"""Diagnostics as plain data for editors and other programs."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.source import Span


def as_records(diagnostics: Iterable[Diagnostic]) -> list[dict[str, Any]]:
    """One dictionary a diagnostic, ready for `json.dumps`.

    Lines and columns count from 1; the end is the place behind the last character. `level`
    is always "fail": a file with a mistake is not run.
    """
    return [
        {
            "code": each.code,
            "level": "fail",
            "message": each.message,
            "help": each.help,
            **_place(each.span),
            "further": [{"text": label.text, **_place(label.span)} for label in each.further],
        }
        for each in diagnostics
    ]


def _place(span: Span) -> dict[str, Any]:
    source = span.source
    return {
        "file": source.name,
        "line": span.line,
        "column": span.column,
        "end_line": source.line_of(span.end),
        "end_column": source.column_of(span.end),
    }
