"""What a text declares, told from its words alone, so that half-typed lines do no harm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lark import Token

from copperpath_grammar.lexing import span_of
from copperpath_grammar.pieces import Piece, Splitter
from copperpath_grammar.source import Source

NAMED = frozenset(("KIND", "PART", "KIT", "LET", "ASSEMBLY", "EXPOSE"))
DEVICES = ("source", "converter", "storage", "block", "load", "kit")
"""Words that declare what a cable can end at."""


@dataclass(frozen=True, slots=True)
class Declared:
    """One declared thing.

    Attributes
    ----------
    word : str
        How its statement begins: source, ..., load, part, kit, let, assembly, expose or case.
    of : str
        The model, part or assembly behind the colon; "" if there is none (yet).
    owner : str
        The assembly in which it stands, or the case (see `case_owner`); "" for the file itself.
    header : str
        The statement without its body, as written.
    source : Source
        The text in which it stands.
    start : int
        Where its name begins there.
    entries : mapping of str to sequence of Token
        The values of its entries, by the entry's name.
    parameters : sequence of str
        Of an assembly.
    many : bool
        Whether there are several of it.
    """

    word: str
    name: str
    of: str
    owner: str
    header: str
    source: Source
    start: int
    entries: Mapping[str, Sequence[Token]]
    parameters: Sequence[str] = ()
    many: bool = False


@dataclass(frozen=True, slots=True)
class Outline:
    """All that is declared, in the order of the text."""

    declared: tuple[Declared, ...]

    def part(self, name: str) -> Declared | None:
        """The part of that name."""
        return self._first(name, ("part",))

    def assembly(self, name: str) -> Declared | None:
        """The assembly of that name."""
        return self._first(name, ("assembly",))

    def device(self, name: str, owner: str = "") -> Declared | None:
        """The device or kit of that name, as seen from inside `owner`."""
        return self._first(name, DEVICES, owner) or self._first(name, DEVICES)

    def inside(self, owner: str) -> tuple[Declared, ...]:
        """What is declared in the file itself ("") or in one of its assemblies or cases."""
        return tuple(each for each in self.declared if each.owner == owner)

    def _first(self, name: str, words: Sequence[str], owner: str = "") -> Declared | None:
        for each in self.declared:
            if each.name == name and each.word in words and each.owner == owner:
                return each
        return None


def outline_of(tokens: Sequence[Token], source: Source) -> Outline:
    """The outline of a text."""
    splitter = Splitter([each for each in tokens if each.type != "SLASHES"], source)
    splitter.split()
    return Outline(tuple(_declared(splitter.pieces, "", source)))


def case_owner(title: str) -> str:
    """What stands for a case as an owner; no assembly can have such a name."""
    return f'"{title}"'


def title_of(token: Token) -> str:
    """A text without its quotes."""
    return str(token).strip('"').replace('""', '"')


def _declared(pieces: Sequence[Piece], owner: str, source: Source) -> Iterator[Declared]:
    for piece in pieces:
        header = piece.header
        if len(header) < 2:
            continue
        entries = {str(entry[0]): tuple(entry[1:]) for entry in piece.entries}
        start = header[1].start_pos or 0
        written = span_of(source, header[0], header[-1]).text
        if header[0].type == "CASE":
            title = title_of(header[1])
            yield Declared("case", title, "", owner, written, source, start, entries)
            yield from _declared(piece.inner, case_owner(title), source)
        elif header[0].type in NAMED and header[1][:1].isalnum():
            name = str(header[1])
            yield Declared(
                str(header[0]),
                name,
                _behind_colon(header),
                owner,
                written,
                source,
                start,
                entries,
                _parameters(header) if header[0].type == "ASSEMBLY" else (),
                len(header) > 2 and header[2].type == "LSQB",
            )
            yield from _declared(piece.inner, name, source)


def _behind_colon(header: Sequence[Token]) -> str:
    for index, token in enumerate(header[:-1]):
        if token.type == "COLON":
            return str(header[index + 1])
    return ""


def _parameters(header: Sequence[Token]) -> tuple[str, ...]:
    """The names at the beginning of a bracket and behind its commas."""
    return tuple(
        str(token)
        for before, token in pairwise(header[2:])
        if before.type in ("LPAR", "COMMA") and token[:1].isidentifier()
    )
