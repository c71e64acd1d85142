"""Taking a file apart into statements and entries when it does not parse as a whole.

Only braces, line breaks and the first words of lines are looked at, so that one mistake
does not blur the others. What the pieces say is for `recovery`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from lark import Token

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.lexing import span_of
from copperpath_grammar.source import Source
from copperpath_grammar.syntax_errors import (
    AfterBody,
    NestedBody,
    NestedDeclaration,
    StrayBody,
    StrayBrace,
    UnclosedBrace,
)

GAPS = frozenset(("_NEWLINE", "SEMICOLON"))
DECLARING = frozenset(("KIND", "PART", "KIT"))
BEGINNINGS = frozenset(
    (
        *("STATION", "PART", "KIND", "KIT", "CABLE", "LET", "REQUIRE", "NEVER", "BOND", "DATA"),
        *("INCLUDE", "ASSEMBLY", "CASE"),
    )
)
INSIDE = {
    "ASSEMBLY": frozenset(
        ("LET", "KIND", "KIT", "CABLE", "REQUIRE", "NEVER", "BOND", "DATA", "EXPOSE")
    ),
    "CASE": frozenset(
        ("LET", "PART", "KIND", "KIT", "CABLE", "NEVER", "BOND", "DATA", "CHANGE", "WITHOUT"),
    ),
}
"""Statements whose bodies hold statements, and which."""
BODILESS = frozenset(("LET", "REQUIRE", "NEVER", "BOND", "DATA", "INCLUDE", "EXPOSE", "WITHOUT"))
DEEPEST = 20  # statements inside each other, all of them mistakes


@dataclass(slots=True)
class Piece:
    """One statement as tokens, mended at its edges.

    `entries` are those that can be read; `broken` begin entries that are known to be wrong.
    `inner` are the statements inside an assembly or a case.
    """

    header: list[Token]
    opening: Token | None = None
    entries: list[list[Token]] = field(default_factory=list)
    inner: list[Piece] = field(default_factory=list)
    broken: list[Token] = field(default_factory=list)
    closing: Token | None = None

    @property
    def owner(self) -> str:
        """The statement in words, for messages."""
        return owner_of(self.header)


def owner_of(header: Sequence[Token]) -> str:
    """A statement in words: `load rig`, the station, this cable."""
    if not header:
        return "these braces"
    first = header[0]
    if first.type == "STATION":
        return "the station"
    if first.type == "CABLE":
        return "this cable"
    if first.type == "CASE":
        return "this case"
    if len(header) > 1 and first.type in DECLARING | {"ASSEMBLY"} and header[1][:1].isidentifier():
        return f"`{first} {header[1]}`"
    return f"`{first}`"


class Splitter:
    """Walks over the tokens once; `pieces` and `diagnostics` grow in the order of the text."""

    def __init__(self, tokens: Sequence[Token], source: Source) -> None:
        self.tokens = tokens
        self.source = source
        self.index = 0
        self.pieces: list[Piece] = []
        self.diagnostics: list[Diagnostic] = []

    def split(self) -> None:
        """Take the whole file apart."""
        while self._skip_gaps():
            self._statement(self.pieces, depth=0)

    # ---- statements -------------------------------------------------------------------------

    def _statement(self, into: list[Piece], depth: int) -> None:
        """One statement with its body, from the present token on, put on a list."""
        if self._here().type == "RBRACE":
            self._stray_braces()
            return
        piece = Piece(self._line(until=("LBRACE", "RBRACE")))
        into.append(piece)
        if not self._at_body(piece):
            if not self._at_end() and self._here().type == "RBRACE" and needs_body(piece):
                self.index += 1  # the missing `{` will be told, this is its partner
            return
        piece.opening = self._here()
        self.index += 1
        if not piece.header:
            into.remove(piece)
            self.diagnostics.append(StrayBody(span_of(self.source, piece.opening)))
        self._body(piece, depth)
        if depth == 0 and piece.closing is not None:
            self._rest_of_line()

    def _at_body(self, piece: Piece) -> bool:
        """Whether a `{` follows, perhaps on the next line."""
        ahead = self.index
        if needs_body(piece):
            while ahead < len(self.tokens) and self.tokens[ahead].type == "_NEWLINE":
                ahead += 1
        if ahead < len(self.tokens) and self.tokens[ahead].type == "LBRACE":
            self.index = ahead
            return True
        return False

    def _stray_braces(self) -> None:
        """Closing braces where none is open; those after unread lines are no news."""
        if not (self.pieces and is_unknown(self.pieces[-1])):
            self.diagnostics.append(StrayBrace(span_of(self.source, self._here())))
        while self._skip_gaps() and self._here().type == "RBRACE":
            self.index += 1

    def _rest_of_line(self) -> None:
        """Complain about what stands behind a closing brace on the same line."""
        if self._at_end() or self._here().type in GAPS | {"RBRACE"}:
            return
        first = self._here()
        if self._begins_statement():
            self.diagnostics.append(AfterBody(span_of(self.source, first), True))
            return
        rest = self._rest_of_text_line()
        self.diagnostics.append(AfterBody(span_of(self.source, first, rest[-1]), False))

    # ---- bodies -----------------------------------------------------------------------------

    def _body(self, piece: Piece, depth: int) -> None:
        """The entries up to the closing brace, or to where one was forgotten."""
        while self._skip_gaps():
            if self._here().type == "RBRACE":
                piece.closing = self._here()
                self.index += 1
                return
            allowed = INSIDE.get(piece.header[0].type, frozenset()) if piece.header else frozenset()
            if self._is_outside(piece) and self._resembles_statement():
                self._unclosed(piece, self._here())
                return
            if self._holds_here(piece, allowed) and depth < DEEPEST:
                self._statement(piece.inner, depth + 1)
                self._rest_of_inner_line()
                continue
            if self._begins_statement():
                self._nested(piece, depth)
                continue
            self._entry(piece)
        self._unclosed(piece, None)

    def _entry(self, piece: Piece) -> None:
        entry = self._line(until=("LBRACE", "RBRACE"))
        if not self._at_end() and self._here().type == "LBRACE":
            brace = self._here()
            first = entry[0] if entry else brace
            name = str(first) if entry else ""
            problem = NestedBody if entry else StrayBody
            arguments = (name,) if entry else ()
            span = span_of(self.source, brace)
            self.diagnostics.append(problem(span, *arguments))
            piece.broken.append(first)
            self._skip_braces()
        elif entry:
            piece.entries.append(entry)

    def _nested(self, piece: Piece, depth: int) -> None:
        """A statement inside a body: reported, then read as if it stood outside."""
        first = self._here()
        self.diagnostics.append(
            NestedDeclaration(span_of(self.source, first), str(first), piece.owner)
        )
        if depth < DEEPEST:
            self._statement(self.pieces, depth + 1)
        else:
            self._line(until=())

    def _holds_here(self, piece: Piece, allowed: frozenset[str]) -> bool:
        """Whether the line here is a statement that belongs inside this one."""
        if not allowed:
            return False
        if self._here().type in allowed and self._resembles_statement():
            return True
        # All lines of an assembly are statements; those of a case may be entries.
        return piece.header[0].type == "ASSEMBLY" and not self._begins_statement()

    def _rest_of_inner_line(self) -> None:
        """As `_rest_of_line`, where the brace of the statement around may follow."""
        if not self._at_end() and self.tokens[self.index - 1].type == "RBRACE":
            self._rest_of_line()

    def _unclosed(self, piece: Piece, noticed: Token | None) -> None:
        brace = piece.opening
        assert brace is not None
        lines = [*piece.entries, *(inner.header for inner in piece.inner)]
        held = [token for line in lines for token in line]
        if any(token.type == "OPEN_TEXT" and "}" in token for token in held):
            return  # the brace is in a text that was never closed, which is told anyway
        span = span_of(self.source, brace)
        seen = span_of(self.source, noticed) if noticed is not None else None
        self.diagnostics.append(UnclosedBrace(span, piece.owner, seen))

    # ---- looking around ---------------------------------------------------------------------

    def _at_end(self) -> bool:
        return self.index >= len(self.tokens)

    def _here(self) -> Token:
        return self.tokens[self.index]

    def _skip_gaps(self) -> bool:
        """Go to the next token that is no separator; False at the end of the file."""
        while not self._at_end() and self._here().type in GAPS:
            self.index += 1
        return not self._at_end()

    def _line(self, until: Sequence[str]) -> list[Token]:
        """Take tokens up to a separator or one of the given types."""
        start = self.index
        while not self._at_end():
            if self._here().type in GAPS or self._here().type in until:
                break
            self.index += 1
        return list(self.tokens[start : self.index])

    def _rest_of_text_line(self) -> list[Token]:
        """Take all tokens up to the line break, but no statement behind a `;`."""
        start = self.index
        while not self._at_end() and self._here().type != "_NEWLINE":
            self.index += 1
            behind = self.tokens[self.index - 1].type == "SEMICOLON" and not self._at_end()
            if behind and self._begins_statement():
                break
        return list(self.tokens[start : self.index])

    def _skip_braces(self) -> None:
        """Go behind the brace that closes the one here, or to the end of the file."""
        open_braces = 0
        while not self._at_end():
            open_braces += {"LBRACE": 1, "RBRACE": -1}.get(self._here().type, 0)
            self.index += 1
            if open_braces == 0:
                return

    def _begins_statement(self) -> bool:
        """Whether a declaration begins here, beyond doubt even inside a body."""
        kind, following = self._here().type, self._following(3)
        if kind in DECLARING:
            return len(following) > 1 and following[1].type in ("COLON", "LSQB")
        if kind == "STATION":
            return bool(following) and following[0].type in ("TEXT", "OPEN_TEXT")
        if kind == "CABLE":
            return any(token.type == "ARROW" for token in self._following(12))
        if kind == "LET":
            return len(following) > 1 and following[1].type == "EQUAL"
        if kind == "DATA":
            return any(token.type == "ARROW" for token in self._following(12))
        if kind == "NEVER":
            return bool(following) and following[0].type == "TOGETHER"
        if kind == "BOND":
            return any(token == "to" for token in self._following(12))
        if kind == "INCLUDE":
            return bool(following) and following[0].type in ("TEXT", "OPEN_TEXT", "LIBRARY")
        if kind == "CASE":
            return bool(following) and following[0].type in ("TEXT", "OPEN_TEXT")
        if kind == "ASSEMBLY":
            return len(following) > 1 and following[1].type in ("LPAR", "LBRACE")
        if kind == "REQUIRE":
            wanted = ("POWERED", "COMPARISON")
            return any(token.type in wanted for token in self._following(12))
        return False

    def _resembles_statement(self) -> bool:
        """Whether the line here can be no entry, or only by a strange choice of words."""
        line = [self._here(), *self._following(40)]
        if any(token.type == "LBRACE" for token in line):
            return True
        return self._begins_statement() or (
            line[0].type in BEGINNINGS | {"EXPOSE", "CHANGE", "WITHOUT"}
            and len(line) > 1
            and line[1].type in ("NAME", "TEXT", "CABLE")
        )

    def _following(self, count: int) -> list[Token]:
        """The next tokens of this line."""
        found: list[Token] = []
        for token in self.tokens[self.index + 1 : self.index + 1 + count]:
            if token.type in GAPS:
                break
            found.append(token)
        return found

    def _is_outside(self, piece: Piece) -> bool:
        """Whether the statement here is indented no more than the one around it."""
        if not piece.header:
            return True
        here, around = self._here(), piece.header[0]
        return (here.column or 1) <= (around.column or 1) and here.line != around.line


def needs_body(piece: Piece) -> bool:
    """Whether a piece begins with a word whose statements have a body."""
    kinds = BEGINNINGS | {"CHANGE"}
    return bool(piece.header) and piece.header[0].type in kinds - BODILESS


def is_unknown(piece: Piece, allowed: frozenset[str] = BEGINNINGS) -> bool:
    """Whether a piece begins with no word that statements begin with."""
    return not piece.header or piece.header[0].type not in allowed
