"""Station files made wrong on purpose: small changes that a seed decides.

For fuzz runs: whatever comes out here, reading it must give diagnostics, never a crash.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator

_TOKENS = re.compile(r'"[^"\n]*"|#[^\n]*|\w+(?:\.\w+)*|->|\.\.|[<>]=?|\s+|.', re.DOTALL)

# What fingers, editors and other languages put into files.
JUNK = (
    *("{", "}", "(", ")", ";", ",", ":", "=", "==", "->", "=>", "..", ".", "#", '"', "'", "\\"),
    *("\t", "\n", "\r", "\r\n", "\0", "\x1b[31m", "\ufeff", "\u200b", "\u202e", "\u0301", "\xa0"),
    *("°", "µ", "Ω", "²", "½", "≥", "—", "“", "灯", "😀", "\ud800"),
    *("1e999", "-1e999", "9" * 400, "0", "-0", "1e-400", "0,5", ".5", "5.", "1_000", "0x10", "nan"),
    *("25:00", "6:5", "2026-02-30", "9999-99-99", "inf", "%", "W", "14 AWG", "5 W", "1 m"),
    *("load", "source", "cable", "part", "station", "let", "require", "powered", "holds"),
    *("at", "from", "to", "on", "every", "within", "of", "otherwise", "and", "in"),
    *("kit", "assembly", "case", "change", "without", "never together", "bond", "data", "expose"),
    *("include", "include library", "in every case", "[", "]", "[1..6]", "[3]", ".[2]", "[[[[["),
    *("((((((((((", "- - - - -", "{ { { {", "} } } }", "* 1e300", "/ 0", "x : x { }"),
)


def mutants(text: str, count: int, seed: int) -> Iterator[str]:
    """Yield `count` changed copies of a text, always the same ones for one seed.

    One to four changes each, to whole words or to single letters: drop, double, swap, replace
    by another word of the file, insert junk. One copy in fifty is cut off in the middle.
    """
    dice = random.Random(seed)
    words = _TOKENS.findall(text)
    solid = [word for word in words if not word.isspace()]
    for _ in range(count):
        changed = list(words) if dice.random() < 0.7 else list(text)
        for _ in range(dice.randint(1, 4)):
            if changed:
                dice.choice(_CHANGES)(changed, solid, dice)
        if dice.random() < 0.02:
            del changed[dice.randrange(len(changed) + 1) :]
        yield "".join(changed)


Change = Callable[[list[str], list[str], random.Random], None]


def _drop(parts: list[str], words: list[str], dice: random.Random) -> None:
    start = dice.randrange(len(parts))
    del parts[start : start + dice.choice((1, 1, 1, 2, 8))]


def _double(parts: list[str], words: list[str], dice: random.Random) -> None:
    start = dice.randrange(len(parts))
    parts[start:start] = parts[start : start + dice.choice((1, 1, 3, 20))]


def _swap(parts: list[str], words: list[str], dice: random.Random) -> None:
    one, other = dice.randrange(len(parts)), dice.randrange(len(parts))
    parts[one], parts[other] = parts[other], parts[one]


def _replace(parts: list[str], words: list[str], dice: random.Random) -> None:
    parts[dice.randrange(len(parts))] = dice.choice(words or ["x"])


def _insert(parts: list[str], words: list[str], dice: random.Random) -> None:
    parts.insert(dice.randrange(len(parts) + 1), dice.choice(JUNK))


def _overwrite(parts: list[str], words: list[str], dice: random.Random) -> None:
    parts[dice.randrange(len(parts))] = dice.choice(JUNK)


_CHANGES: tuple[Change, ...] = (_drop, _double, _swap, _replace, _insert, _overwrite)
