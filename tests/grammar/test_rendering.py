"""How messages look on a terminal, and as data."""

from __future__ import annotations

import pytest

from copperpath_grammar import as_records, decode, parse, render
from copperpath_grammar.text_cells import width_of, wrap


def shown(text: str, width: int = 80) -> list[str]:
    """The lines of what is said about a text."""
    return render(parse(text, "bog.station").diagnostics, width=width).splitlines()


def test_the_marker_stands_under_the_words() -> None:
    _, line, marker, *_ = shown("load rig : transceiver { receive 0,5 A }")
    assert line.index("0,5 A") == marker.index("^")
    assert marker.count("^") == len("0,5 A")


def test_wide_letters_take_two_columns() -> None:
    _, line, marker, *_ = shown('load rig : transceiver { note "灯灯"; receive 0,5 A }')
    assert width_of(line[: line.index("0,5 A")]) == marker.index("^")


def test_marks_on_letters_take_no_column() -> None:
    _, line, marker, *_ = shown('load rig : transceiver { note "e\u0301e\u0301"; receive 0,5 A }')
    assert line.index("0,5 A") - 2 == marker.index("^")


def test_tabs_are_shown_as_blanks() -> None:
    _, line, marker, *_ = shown("load rig : transceiver {\n\treceive\t0,5 A\n}")
    assert "\t" not in line
    assert line.index("0,5 A") == marker.index("^")


@pytest.mark.parametrize("width", [30, 50, 80, 200])
def test_no_line_is_longer_than_asked_for(width: int) -> None:
    body = 'note "灯' + "story " * 60 + '"; receive 0,5 A; fuse 5 A near ' + "x" * 300
    for line in shown("load rig : transceiver { " + body + " }", width):
        assert width_of(line) <= width


def test_a_long_line_is_cut_around_the_mistake() -> None:
    _, line, marker, *_ = shown(
        "load rig : transceiver { " + "mode ssb; " * 50 + "receive 0,5 A" + "; mode ssb" * 50 + " }"
    )
    assert line.strip().startswith("...")
    assert line.endswith("...")
    assert line[marker.index("^") :].startswith("0,5 A")


def test_nothing_in_a_file_reaches_the_terminal_as_a_control_sign() -> None:
    text = "load \x1b[31mrig : transceiver { note 0,5 \u202e }\n\x07"
    assert all(line.isprintable() for line in shown(text))


def test_colours_change_nothing_but_the_colours() -> None:
    diagnostics = parse("load rig transceiver { }").diagnostics
    painted = render(diagnostics, colour=True)
    assert "\x1b[" in painted
    for code in ("\x1b[1m", "\x1b[1;31m", "\x1b[1;32m", "\x1b[0m"):
        painted = painted.replace(code, "")
    assert painted == render(diagnostics)


def test_no_mistakes_give_no_text() -> None:
    assert render([]) == ""


def test_wrapping_cuts_words_that_fit_on_no_line() -> None:
    assert wrap("a bb cccccc", 4) == ["a bb", "cccc", "cc"]


def test_records_hold_the_place_of_every_mistake() -> None:
    (record,) = as_records(parse("load rig : transceiver {\n    mode\n", "bog.station").diagnostics)
    assert record == {
        "code": "syntax/unclosed-brace",
        "level": "fail",
        "message": "the `{` of `load rig` is never closed",
        "help": "write `}` after its last entry",
        "file": "bog.station",
        "line": 1,
        "column": 24,
        "end_line": 1,
        "end_column": 25,
        "further": [],
    }


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_utf8_is_read_with_and_without_a_mark(mark: bytes) -> None:
    assert decode(mark + "wire 4 mm²".encode()) == ("wire 4 mm²", ())


@pytest.mark.parametrize(
    ("data", "code", "words"),
    [
        ("station".encode("utf-16"), "syntax/not-utf8", "UTF-16"),
        ("station".encode("utf-32"), "syntax/not-utf8", "UTF-32"),
        ("a\nwire 4 mm²".encode("latin-1"), "syntax/not-utf8", "B2"),
        (b"\xef\xbb\xbfa\xb2", "syntax/not-utf8", "B2"),
        (b"load\0x", "syntax/not-text", "bytes of value zero"),
    ],
)
def test_other_bytes_are_told_apart(data: bytes, code: str, words: str) -> None:
    text, (problem,) = decode(data, "bog.station")
    assert text == ""
    assert problem.code == code
    assert words in problem.message
    assert render(problem)


def test_the_place_of_a_wrong_byte_is_shown() -> None:
    _, (problem,) = decode("a\nwire 4 mm²".encode("latin-1"), "bog.station")
    assert (problem.span.line, problem.span.column) == (2, 10)


def test_what_stands_between_backticks_is_not_broken_over_two_lines() -> None:
    words = "write its entries between braces, such as `load rig : transceiver { ... }`, below it"
    assert wrap(words, 60) == [
        "write its entries between braces, such as",
        "`load rig : transceiver { ... }`, below it",
    ]


def test_a_piece_between_backticks_that_is_wider_than_a_line_is_broken_at_blanks() -> None:
    assert wrap("as `one two three four`", 12) == ["as `one two", "three four`"]
