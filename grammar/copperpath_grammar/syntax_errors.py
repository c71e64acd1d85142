"""Mistakes in how statements and entries are put together; one class a mistake.

Mistakes inside a single value (numbers, times, texts) are in `value_errors`.
"""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span

STATEMENT_WORDS = (
    "station",
    "part",
    "source",
    "converter",
    "storage",
    "block",
    "load",
    "cable",
    "let",
    "require",
)
_EXAMPLES = {
    "station": 'station "Heron bog" { ... }',
    "part": "part panel28 : photovoltaic { ... }",
    "source": "source panel : photovoltaic { ... }",
    "converter": "converter regulator : mppt_charger { ... }",
    "storage": "storage pack : lfp { ... }",
    "block": "block strip : strip { ... }",
    "load": "load rig : transceiver { ... }",
    "cable": "cable pack -> strip.in { ... }",
    "let": "let run = 3.5 m",
    "require": "require rig powered throughout",
}


def example_of(word: str) -> str:
    """How the statement that begins with `word` is written."""
    return _EXAMPLES[word]


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
        return f"begin with what the station is called: `{_EXAMPLES['station']}`"


@dataclass(frozen=True, slots=True)
class FileTooLong(Diagnostic):
    """More text than any station needs."""

    length: int
    longest: int
    code = "syntax/file-too-long"

    @property
    def message(self) -> str:
        return (
            f"this file has {self.length:,} characters; at most {self.longest:,} are read".replace(
                ",", " "
            )
        )

    @property
    def help(self) -> str:
        return "a station file is a short text; check that this is the file you meant"


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
        return f"write what they describe before the `{{`, such as `{_EXAMPLES['load']}`"


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
        return f"`{self.statement}` has no body in braces"

    @property
    def help(self) -> str:
        return f"write `{{ }}` after it, with its entries inside: `{self.statement} {{ ... }}`"


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
        return f"write it on one line: `{_EXAMPLES[self.word]}`"


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


# ---- beginnings of statements ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnknownStatement(Diagnostic):
    """A line that begins with a word no statement begins with."""

    word: str
    nearest: str
    is_entry: bool
    code = "syntax/unknown-statement"

    @property
    def message(self) -> str:
        return f"no statement begins with `{self.word}`"

    @property
    def help(self) -> str:
        if self.nearest:  # by its spelling or by its meaning
            return f"did you mean `{self.nearest}`? It is written `{_EXAMPLES[self.nearest]}`"
        if self.is_entry:
            return "entries stand between the braces of a statement; did a `}` come too early?"
        return "a statement begins with one of " + ", ".join(STATEMENT_WORDS)


@dataclass(frozen=True, slots=True)
class WrongCase(Diagnostic):
    """`Load` for `load`."""

    word: str
    code = "syntax/wrong-case"

    @property
    def message(self) -> str:
        return f"`{self.word}` must be written in small letters here"

    @property
    def help(self) -> str:
        return f"write `{self.word.lower()}`"


@dataclass(frozen=True, slots=True)
class NotAStatement(Diagnostic):
    """A line that begins with something else than a word."""

    found: str
    code = "syntax/not-a-statement"

    @property
    def message(self) -> str:
        return f"a statement begins with a word, not with {self.found}"

    @property
    def help(self) -> str:
        return "one of " + ", ".join(STATEMENT_WORDS)


@dataclass(frozen=True, slots=True)
class MissingTitle(Diagnostic):
    """A station without its title in quotes."""

    word: str
    code = "syntax/missing-title"

    @property
    def message(self) -> str:
        return "a station needs a title in double quotes"

    @property
    def help(self) -> str:
        title = self.word or "Heron bog"
        return f'write `station "{title}" {{ ... }}`'


@dataclass(frozen=True, slots=True)
class MissingName(Diagnostic):
    """A declaration without a name."""

    word: str
    code = "syntax/missing-name"

    @property
    def message(self) -> str:
        return f"this `{self.word}` has no name"

    @property
    def help(self) -> str:
        return f"give it a name after `{self.word}`: `{_EXAMPLES[self.word]}`"


@dataclass(frozen=True, slots=True)
class NotAName(Diagnostic):
    """Something that cannot be a name where one is needed; `better` is a name like it."""

    text: str
    reason: str
    better: str
    code = "syntax/not-a-name"

    @property
    def message(self) -> str:
        return f"`{self.text}` cannot be a name: {self.reason}"

    @property
    def help(self) -> str:
        if self.better:
            return f"call it something like `{self.better}`"
        return "names begin with a letter and hold letters, digits and `_`"


@dataclass(frozen=True, slots=True)
class MissingColon(Diagnostic):
    """`load rig transceiver`, or another sign where the colon belongs."""

    word: str
    name: str
    model: str
    code = "syntax/missing-colon"

    @property
    def message(self) -> str:
        return f"a `:` must stand between the name `{self.name}` and its model"

    @property
    def help(self) -> str:
        return f"write `{self.word} {self.name} : {self.model} {{ ... }}`"


@dataclass(frozen=True, slots=True)
class MissingModel(Diagnostic):
    """A declaration that does not say what the thing is."""

    word: str
    name: str
    code = "syntax/missing-model"

    @property
    def message(self) -> str:
        return f"nothing says which model or part `{self.name}` is"

    @property
    def help(self) -> str:
        example = _EXAMPLES[self.word].split(":")[1].split("{")[0].strip()
        return f"write it after a colon, such as `{self.word} {self.name} : {example} {{ ... }}`"


# ---- cables, let, require -------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class MissingArrow(Diagnostic):
    """A cable whose two ends are not joined by `->`; `found` is what stands there, if anything."""

    found: str
    start: str
    end: str
    code = "syntax/missing-arrow"

    @property
    def message(self) -> str:
        if self.found:
            return f"the ends of a cable are joined by `->`, not by `{self.found}`"
        return "the ends of a cable are joined by `->`"

    @property
    def help(self) -> str:
        return f"write `cable {self.start} -> {self.end} {{ ... }}`"


@dataclass(frozen=True, slots=True)
class MissingEnd(Diagnostic):
    """A cable with one end only."""

    which: str
    code = "syntax/missing-end"

    @property
    def message(self) -> str:
        return f"this cable does not say where it {self.which}"

    @property
    def help(self) -> str:
        return f"name a device or a terminal on each side of `->`: `{_EXAMPLES['cable']}`"


@dataclass(frozen=True, slots=True)
class ThirdEnd(Diagnostic):
    """`cable a -> b -> c`."""

    code = "syntax/third-end"

    @property
    def message(self) -> str:
        return "a cable has two ends, not three"

    @property
    def help(self) -> str:
        return "write a `cable` statement for each run from one terminal to the next"


@dataclass(frozen=True, slots=True)
class BadLet(Diagnostic):
    """A `let` without its name, `=` or value; `lack` says which."""

    lack: str
    code = "syntax/incomplete-let"

    @property
    def message(self) -> str:
        return f"this `let` has no {self.lack}"

    @property
    def help(self) -> str:
        return "a named value is written `let run = 3.5 m`"


@dataclass(frozen=True, slots=True)
class EmptyRequirement(Diagnostic):
    """`require` alone."""

    code = "syntax/empty-requirement"

    @property
    def message(self) -> str:
        return "this `require` demands nothing"

    @property
    def help(self) -> str:
        return (
            "say what must be true: `require rig powered throughout`, "
            "`require pack.charge >= 20 %` or `require holds`"
        )


@dataclass(frozen=True, slots=True)
class WrongComparison(Diagnostic):
    """`=`, `==`, `=>` and the like; `better` is the sign to write."""

    found: str
    better: str
    code = "syntax/wrong-comparison"

    @property
    def message(self) -> str:
        return f"`{self.found}` is not one of the comparisons `<`, `<=`, `>`, `>=`"

    @property
    def help(self) -> str:
        if self.better:
            return f"write `{self.better}`"
        return "a computed figure is never exactly equal; demand at least (`>=`) or at most (`<=`)"


@dataclass(frozen=True, slots=True)
class IncompleteRequirement(Diagnostic):
    """A `require` that stops too early; `lack` says before what."""

    lack: str
    example: str
    code = "syntax/incomplete-requirement"

    @property
    def message(self) -> str:
        return f"this requirement does not say {self.lack}"

    @property
    def help(self) -> str:
        return f"write for example `{self.example}`"


# ---- entries --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SignInEntry(Diagnostic):
    """`power = 28 W` or `power: 28 W`."""

    sign: str
    name: str
    rest: str
    code = "syntax/sign-in-entry"

    @property
    def message(self) -> str:
        return f"no `{self.sign}` stands between an entry and its value"

    @property
    def help(self) -> str:
        return f"write `{self.name} {self.rest}`"


@dataclass(frozen=True, slots=True)
class ComparisonInEntry(Diagnostic):
    """`charge >= 20 %` in a body."""

    name: str
    code = "syntax/comparison-in-entry"

    @property
    def message(self) -> str:
        return "a comparison cannot stand in a body"

    @property
    def help(self) -> str:
        return (
            f"give the value of `{self.name}` without a sign here; "
            "demands are statements: `require pack.charge >= 20 %`"
        )


@dataclass(frozen=True, slots=True)
class EntryWithoutName(Diagnostic):
    """An entry that begins with a value."""

    found: str
    code = "syntax/entry-without-name"

    @property
    def message(self) -> str:
        return f"an entry begins with its name, not with {self.found}"

    @property
    def help(self) -> str:
        return "write what the value is before it, such as `power 28 W`"


@dataclass(frozen=True, slots=True)
class SideBySide(Diagnostic):
    """Two values with nothing between them; `names_entry` if the second looks like an entry."""

    first: str
    second: str
    code = "syntax/side-by-side"

    @property
    def message(self) -> str:
        return f"`{self.first}` and `{self.second}` stand side by side with nothing between them"

    @property
    def help(self) -> str:
        return (
            "put `;` or a line break between two entries; between two values a comma, `..` "
            "or a word such as `at`, `from`, `to`"
        )


@dataclass(frozen=True, slots=True)
class RunTogether(Diagnostic):
    """`mass0.11 kg`."""

    text: str
    better: str
    code = "syntax/run-together"

    @property
    def message(self) -> str:
        return f"a blank is missing in `{self.text}`"

    @property
    def help(self) -> str:
        return f"write `{self.better}`"


@dataclass(frozen=True, slots=True)
class MissingValue(Diagnostic):
    """Nothing after a word or sign that wants a value."""

    after: str
    code = "syntax/missing-value"

    @property
    def message(self) -> str:
        return f"a value is missing after `{self.after}`"

    @property
    def help(self) -> str:
        return f"write a value after it on the same line, or take `{self.after}` away"


@dataclass(frozen=True, slots=True)
class UnclosedParenthesis(Diagnostic):
    """`(` without `)` on the same line."""

    code = "syntax/unclosed-parenthesis"

    @property
    def message(self) -> str:
        return "this `(` is not closed before the end of the entry"

    @property
    def help(self) -> str:
        return "write the `)` on the same line"


@dataclass(frozen=True, slots=True)
class StrayParenthesis(Diagnostic):
    """`)` without `(`."""

    code = "syntax/stray-parenthesis"

    @property
    def message(self) -> str:
        return "this `)` closes nothing"

    @property
    def help(self) -> str:
        return "take it away, or write the `(` that it belongs to"


@dataclass(frozen=True, slots=True)
class TooDeep(Diagnostic):
    """A calculation longer than anybody can check."""

    limit: int
    code = "syntax/too-deep"

    @property
    def message(self) -> str:
        return f"this calculation has more than {self.limit} signs and parentheses"

    @property
    def help(self) -> str:
        return "split it with `let` statements"


@dataclass(frozen=True, slots=True)
class Unexpected(Diagnostic):
    """Anything else: what was found and at most three things that would fit."""

    found: str
    expected: tuple[str, ...]
    code = "syntax/unexpected"

    @property
    def message(self) -> str:
        return f"{self.found} cannot stand here"

    @property
    def help(self) -> str:
        *others, last = self.expected
        return "expected " + (f"{', '.join(others)} or {last}" if others else last)
