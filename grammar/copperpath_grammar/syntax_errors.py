"""Mistakes in the build of a file: the whole, its braces; one class a mistake.

Those of single statements are in `statement_errors`, of entries in `entry_errors`, of numbers,
times and texts in `value_errors`.
"""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span
from copperpath_grammar.statement_words import EXAMPLES

# ---- the file as a whole --------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class EmptyFile(Diagnostic):
    """Nothing but blanks and comments."""

    code = "syntax/empty-file"

    @property
    def message(self) -> str:
        return "there is nothing in this file but blanks and comments"

    @property
    def help(self) -> str:
        return f"begin with what the station is called: `{EXAMPLES['station']}`"


@dataclass(frozen=True, slots=True)
class TooManyMistakes(Diagnostic):
    """Reading stopped."""

    shown: int
    code = "syntax/too-many-mistakes"

    @property
    def message(self) -> str:
        return f"reading stopped here after {self.shown} mistakes"

    @property
    def help(self) -> str:
        return "mend those above first; if there are so many, is this a station file?"


# ---- braces ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnclosedBrace(Diagnostic):
    """`span` is the opening brace; `noticed` is what came instead of the closing one."""

    owner: str
    noticed: Span | None
    code = "syntax/unclosed-brace"

    @property
    def message(self) -> str:
        return f"the `{{` of {self.owner} is never closed"

    @property
    def label(self) -> str:
        return "opened here"

    @property
    def help(self) -> str:
        if self.noticed is None:
            return "write `}` after its last entry"
        return f"write `}}` after its last entry, before line {self.noticed.line}"

    @property
    def further(self) -> tuple[Label, ...]:
        if self.noticed is None:
            return ()
        return (Label(self.noticed, "a new statement begins here"),)


@dataclass(frozen=True, slots=True)
class StrayBrace(Diagnostic):
    """A closing brace with nothing to close."""

    code = "syntax/stray-brace"

    @property
    def message(self) -> str:
        return "this `}` closes nothing"

    @property
    def label(self) -> str:
        return "no `{` is open here"

    @property
    def help(self) -> str:
        return "take it away, or look above for a `}` that stands too early"


@dataclass(frozen=True, slots=True)
class StrayBody(Diagnostic):
    """A body in braces that belongs to no statement."""

    code = "syntax/stray-body"

    @property
    def message(self) -> str:
        return "these braces belong to no statement"

    @property
    def help(self) -> str:
        return f"write what they describe before the `{{`, such as `{EXAMPLES['load']}`"


@dataclass(frozen=True, slots=True)
class NestedBody(Diagnostic):
    """An entry with braces of its own."""

    name: str
    code = "syntax/nested-body"

    @property
    def message(self) -> str:
        return f"the entry `{self.name}` cannot have braces of its own"

    @property
    def help(self) -> str:
        return "write its values on the same line, such as `fuse 10 A at pack`"


@dataclass(frozen=True, slots=True)
class NestedDeclaration(Diagnostic):
    """A statement inside the body of another."""

    word: str
    owner: str
    code = "syntax/nested-declaration"

    @property
    def message(self) -> str:
        return f"a `{self.word}` statement cannot stand inside {self.owner}"

    @property
    def help(self) -> str:
        return f"move it out, behind the `}}` of {self.owner}; statements stand side by side"


@dataclass(frozen=True, slots=True)
class MissingBody(Diagnostic):
    """A statement that needs a body and has none."""

    statement: str
    code = "syntax/missing-body"

    @property
    def message(self) -> str:
        return f"`{self.statement}` is not followed by braces"

    @property
    def help(self) -> str:
        return f"write its entries between braces: `{self.statement} {{ ... }}`"


@dataclass(frozen=True, slots=True)
class MissingOpening(Diagnostic):
    """`load rig : transceiver receive 0.3 A }`."""

    found: str
    code = "syntax/missing-opening-brace"

    @property
    def message(self) -> str:
        return f"a `{{` is missing before {self.found}"

    @property
    def help(self) -> str:
        return "entries stand between `{` and `}`; write the `{` here"


@dataclass(frozen=True, slots=True)
class UnwantedBody(Diagnostic):
    """A `let` or `require` followed by braces."""

    word: str
    code = "syntax/unwanted-body"

    @property
    def message(self) -> str:
        return f"a `{self.word}` statement has no braces"

    @property
    def help(self) -> str:
        return f"write it on one line: `{EXAMPLES[self.word]}`"


@dataclass(frozen=True, slots=True)
class AfterBody(Diagnostic):
    """Something on the line after the closing brace."""

    statement: bool
    code = "syntax/after-body"

    @property
    def message(self) -> str:
        if self.statement:
            return "each statement begins on a line of its own"
        return "nothing can stand after the `}` on its line"

    @property
    def help(self) -> str:
        if self.statement:
            return "start a new line before it"
        return "put entries between the braces, comments behind a `#`"
