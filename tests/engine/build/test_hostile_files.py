"""Any file is answered within two seconds of processor time and 500 MB, whatever stands in it."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from support.big_stations import SITE, plain_text
from support.hostile import Answer, answer_to

from copperpath_grammar import LONGEST_TEXT

SECONDS = 2.0
MEGABYTES = 500.0
MOST_SHOWN = 100_000
"""Letters of an answer; a person reads it."""

LEAD = "{ length 1 m; wire 1.5 mm2 }"


def filled(piece: str, before: str = "") -> str:
    """As much of a piece as a file may hold."""
    room = LONGEST_TEXT - len(before)
    return before + (piece * (room // len(piece) + 1))[:room]


def lines(count: int, line: Callable[[int], str]) -> str:
    """So many lines, each made from its number."""
    return "".join(line(k) + "\n" for k in range(count))


def nested_assemblies(body: str, kit: str) -> str:
    """Twenty assemblies, each with many kits of the one before it."""
    inner = lines(19, lambda k: f"assembly a{k + 1} {{ kit k[{kit}] : a{k} {{ }} }}")
    return f"{SITE}assembly a0 {{ {body} }}\n{inner}kit top[500] : a19 {{ }}\n"


MINUTES = [60 * hour + minute for hour in range(24) for minute in range(59)]
LAMPS = f"""{SITE}storage pack : lfp {{ capacity 12 Ah }}
load l[500] : steady {{ power 1 W }}
cable pack -> l[1..500] {LEAD}
"""
TEXTS = {
    "letters": filled("a\n"),
    "opening braces": filled("{"),
    "closing braces": filled("}"),
    "devices in devices": filled("load a : b {\n"),
    "assemblies in assemblies": filled("assembly a {\n"),
    "cases in cases": filled('case "a" {\n'),
    "unfinished assembly": filled(" load b : c { d 1 A }\n", "assembly a {"),
    "brackets in brackets": filled("("),
    "indices on indices": filled("a[1..2]."),
    "minus signs": SITE + "let x = " + "-" * 90_000 + "1\n",
    "a long sum": SITE + "let x = " + "1+" * 50_000 + "1\n",
    "a long name": "load " + "x" * (LONGEST_TEXT - 100) + " : steady { }\n",
    "a long number": SITE + "let x = " + "9" * 300_000 + " m\n",
    "a long text": filled("x", SITE + 'part a : lfp { note "'),
    "quotation marks": filled('"'),
    "line breaks": filled("\n"),
    "remarks": filled("# a\n"),
    "letters of other scripts": filled("\N{GRINNING FACE} "),
    "one line that is no statement, many times": filled("x y z\n"),
    "one statement with a mistake, many times": filled("load b : c { d 1,2 A }\n"),
    "a big station with one mistake": plain_text(2000) + "lod x : steady { power 1 W }\n",
    "many mistakes in many devices": SITE + lines(4500, lambda k: f"load a{k} : stedy {{ b 1 }}"),
    "unknown ends": SITE + lines(6000, lambda k: f"cable a{k} -> b{k} {LEAD}"),
    "a chain of named values": lines(20_000, lambda k: f"let v{k} = v{k + 1}"),
    "unknown values": SITE
    + lines(6000, lambda k: f"let v{k} = 3 m")
    + lines(4000, lambda k: f"load l{k} : steady {{ power z{k} }}"),
    "unknown counts": SITE
    + lines(6000, lambda k: f"let v{k} = 3 m")
    + lines(4000, lambda k: f"load l{k}[z{k}] : steady {{ power 5 W }}"),
    "counts by a chain of values": SITE
    + lines(6000, lambda k: f"let v{k} = v{k + 1}")
    + "let v6000 = 1\n"
    + lines(4000, lambda k: f"load l{k}[v{k}] : steady {{ power 5 W }}"),
    "a chain of parts": lines(10_000, lambda k: f"part p{k} : p{k + 1} {{ power 3 W }}"),
    "kits that multiply": nested_assemblies("load lamp[10] : steady { power 1 W }", "10"),
    "kits of nothing that multiply": nested_assemblies("", "500"),
    "kits with many values": SITE
    + "assembly a { "
    + lines(5000, lambda k: f"let v{k} = 1 m")
    + "}\nkit top[500] : a { }\n",
    "assemblies of each other": SITE
    + lines(
        1300,
        lambda k: (
            f"assembly a{k} {{\n" + lines(10, lambda j: f"kit k{j} : a{(k + j) % 1300} {{ }}") + "}"
        ),
    ),
    "ranges of cables": SITE
    + lines(9, lambda k: f"load a{k}[500] : steady {{ power 5 W }}")
    + lines(39, lambda k: f"cable strip.[1..500] -> a{k % 9}[1..500] {{ length 1 A; b 3 }}"),
    "ranges times ranges": SITE + "require strip" + ".[1..500]" * 20 + " > 3 V\n",
    "ranges never together": SITE
    + "load l[500] : steady { power 5 W }\nnever together "
    + ", ".join(["l[1..500]"] * 3000)
    + "\n",
    "include lines": filled('include "nothing.station"\n'),
    "numbers beyond all numbers": SITE + "let x = 1e999 m\nlet y = 0/0\nlet z = 1 / 0\n",
    "windows with days among windows without": LAMPS
    + "load a : steady { power 1 W; on "
    + ", ".join(["06:00 to 12:00 on 2026-06-20"] * 4000)
    + "".join(f", {k // 60:02}:{k % 60:02} to {k // 60:02}:{k % 60 + 1:02}" for k in MINUTES)
    + " }\n",
    "a case that leaves the same out over and over": LAMPS
    + 'case "x" {\n'
    + "without l[1..500]\n" * 190
    + "}\n",
    "a case that changes kits over and over": LAMPS
    + f"assembly b({', '.join(f'w{k} = 1 W' for k in range(40))}) {{\n"
    + f"load a : steady {{ power {' + '.join(f'w{k}' for k in range(40))} }}\nexpose in -> a\n}}\n"
    + f"kit k[200] : b {{ }}\ncable pack -> k[1..200] {LEAD}\n"
    + 'case "x" {\n'
    + lines(40, lambda k: f"change k[1..200] {{ w{k} 2 W }}")
    + "}\n",
    "many requirements in many cases": LAMPS
    + "require l[1..500] powered throughout in every case\n" * 35
    + lines(50, lambda k: f'case "c{k}" {{ without l[{k + 1}] }}'),
    "a run of eight hundred years": SITE.replace("lasts 72 h", "lasts 7200000 h"),
}


def checked(answer: Answer) -> Answer:
    """The answer, if it came in time, in little memory, and can be read."""
    assert answer.codes
    assert len(answer.shown) < MOST_SHOWN
    assert answer.megabytes < MEGABYTES
    assert answer.seconds < SECONDS
    return answer


def file_of(folder: Path, data: str | bytes, name: str = "main.station") -> Path:
    """A file with this in it."""
    file = folder / name
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
    return file


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_hostile_text_is_answered_soon(tmp_path: Path, text: str) -> None:
    assert len(text) <= LONGEST_TEXT
    checked(answer_to(file_of(tmp_path, text)))


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"load a\0 : steady { }", "syntax/not-text"),
        ("load a : steady { }".encode("utf-16"), "syntax/not-utf8"),
        ("load a : steady { }".encode("utf-32"), "syntax/not-utf8"),
        ('part a : lfp { note "Zürich" }'.encode("latin-1"), "syntax/not-utf8"),
        (b"\xed\xa0\x80", "syntax/not-utf8"),
        (b"", "syntax/empty-file"),
    ],
)
def test_what_is_no_text_is_said_so(tmp_path: Path, data: bytes, code: str) -> None:
    assert checked(answer_to(file_of(tmp_path, data))).codes == [code]


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_marks_and_line_breaks_of_other_systems_change_nothing(
    tmp_path: Path, mark: bytes, ending: str
) -> None:
    text = plain_text(5).replace("\n", ending) + f"lod x : y {{ }}{ending}"
    answer = answer_to(file_of(tmp_path, mark + text.encode("utf-8")))
    assert answer.codes == ["syntax/unknown-statement"]
    assert ", line 17, column 1\n" in answer.shown


def test_a_hundred_megabytes_are_refused_unread(tmp_path: Path) -> None:
    file = tmp_path / "main.station"
    with file.open("wb") as out:
        out.truncate(100_000_000)
    answer = checked(answer_to(file))
    assert answer.codes == ["syntax/file-too-long"]
    assert answer.megabytes < 150.0
    assert answer.seconds < 0.5


def test_a_hundred_megabytes_are_not_included_either(tmp_path: Path) -> None:
    with (tmp_path / "huge.station").open("wb") as out:
        out.truncate(100_000_000)
    answer = checked(answer_to(file_of(tmp_path, f'include "huge.station"\n{SITE}')))
    assert answer.codes == ["build/cannot-include"]
    assert answer.megabytes < 150.0


def test_two_hundred_mistakes_are_enough(tmp_path: Path) -> None:
    text = SITE + lines(500, lambda k: f"cable strip.1 -> a{k} {LEAD}")
    answer = checked(answer_to(file_of(tmp_path, text)))
    assert len(answer.codes) == 201
    assert "from here on 300 more mistakes are left out" in answer.words


# ---- includes -----------------------------------------------------------------------------------


def test_files_that_include_each_other_end(tmp_path: Path) -> None:
    file_of(tmp_path, 'include "b.station"\n', "a.station")
    file_of(tmp_path, 'include "main.station"\n', "b.station")
    answer = checked(answer_to(file_of(tmp_path, f'include "a.station"\n{SITE}')))
    assert answer.codes == ["build/include-cycle"]


def test_a_long_row_of_includes_ends(tmp_path: Path) -> None:
    for k in range(200):
        file_of(tmp_path, f'include "a{k + 1}.station"\n', f"a{k}.station")
    answer = checked(answer_to(file_of(tmp_path, f'include "a0.station"\n{SITE}')))
    assert answer.codes == ["build/cannot-include"]
    assert "more than 20 deep" in answer.words


def test_files_together_are_no_longer_than_one_may_be(tmp_path: Path) -> None:
    for k in range(5):
        file_of(tmp_path, "# remark\n" * 10_000, f"a{k}.station")
    includes = lines(5, lambda k: f'include "a{k}.station"')
    answer = checked(answer_to(file_of(tmp_path, includes + SITE)))
    assert answer.codes[0] == "build/cannot-include"


@pytest.mark.parametrize(
    "path",
    [
        "../secret.station",
        "parts/../../secret.station",
        "/etc/secret.station",
        "//host/secret.station",
        "~/secret.station",
        "C:secret.station",
        "parts\\secret.station",
    ],
)
def test_a_path_that_climbs_out_is_refused(tmp_path: Path, path: str) -> None:
    file_of(tmp_path, "# here\n", "secret.station")
    home = tmp_path / "home"
    answer = checked(answer_to(file_of(home, f'include "{path}"\n{SITE}')))
    assert answer.codes == ["build/cannot-include"]


@pytest.mark.parametrize("whole_folder", [False, True])
def test_a_link_that_leads_out_is_refused(tmp_path: Path, whole_folder: bool) -> None:
    outside = file_of(tmp_path / "outside", "let secret = 1 m\n", "secret.station")
    home = tmp_path / "home"
    main = file_of(home, f'include "parts/secret.station"\n{SITE}')
    if whole_folder:
        (home / "parts").symlink_to(outside.parent)
    else:
        (home / "parts").mkdir()
        (home / "parts" / "secret.station").symlink_to(outside)
    answer = checked(answer_to(main))
    assert answer.codes == ["build/cannot-include"]
    assert "link to a place outside" in answer.words
    assert "secret = " not in answer.shown


def test_a_circle_of_links_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.station").symlink_to(tmp_path / "b.station")
    (tmp_path / "b.station").symlink_to(tmp_path / "a.station")
    answer = checked(answer_to(file_of(tmp_path, f'include "a.station"\n{SITE}')))
    assert answer.codes == ["build/cannot-include"]


def test_a_pipe_that_never_ends_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.station")
    answer = checked(answer_to(file_of(tmp_path, f'include "pipe.station"\n{SITE}')))
    assert answer.codes == ["build/cannot-include"]
    assert "not a plain file" in answer.words
