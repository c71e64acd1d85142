"""Mistakes in the first lines of statements: declarations, cables, `let`, `require`."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.diagnostics import Diagnostic
from copperpath_grammar.statement_words import EXAMPLES, INSIDE_ONLY, STATEMENT_WORDS

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
            return f"did you mean `{self.nearest}`? It is written `{EXAMPLES[self.nearest]}`"
        if self.is_entry:
            return "entries stand between the braces of a statement; did a `}` come too early?"
        return "a statement begins with one of " + ", ".join(STATEMENT_WORDS)


@dataclass(frozen=True, slots=True)
class OnlyInside(Diagnostic):
    """`change`, `without` or `expose` where it has no meaning."""

    word: str
    code = "syntax/only-inside"

    @property
    def message(self) -> str:
        return f"`{self.word}` stands inside {INSIDE_ONLY[self.word]}, not beside the statements"

    @property
    def help(self) -> str:
        outer = "assembly" if self.word == "expose" else "case"
        return f"write it between the braces of `{EXAMPLES[outer]}`: `{EXAMPLES[self.word]}`"


@dataclass(frozen=True, slots=True)
class MisformedStatement(Diagnostic):
    """A statement of which the first word is known and the rest does not follow its form."""

    word: str
    found: str
    expected: tuple[str, ...]
    example: str = ""
    code = "syntax/misformed-statement"

    @property
    def message(self) -> str:
        return f"this `{self.word}` cannot be read from {self.found} on"

    @property
    def label(self) -> str:
        return f"{' or '.join(self.expected)} belongs here"

    @property
    def help(self) -> str:
        return f"write it like `{self.example or EXAMPLES[self.word]}`"


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
        return "begin with one of " + ", ".join(STATEMENT_WORDS)


@dataclass(frozen=True, slots=True)
class MissingTitle(Diagnostic):
    """A station or a case without its title in quotes."""

    word: str
    owner: str = "station"
    code = "syntax/missing-title"

    @property
    def message(self) -> str:
        return f"a {self.owner} needs a title in double quotes"

    @property
    def help(self) -> str:
        title = self.word or ("Heron bog" if self.owner == "station" else "overcast")
        return f'write `{self.owner} "{title}" {{ ... }}`'


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
        return f"give it a name after `{self.word}`: `{EXAMPLES[self.word]}`"


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
class WrongCount(Diagnostic):
    """`load handheld(6)`, `load handheld[]` or `load handheld[6`."""

    word: str
    name: str
    code = "syntax/wrong-count"

    @property
    def message(self) -> str:
        return f"this does not say how many of `{self.name}` there are"

    @property
    def help(self) -> str:
        return f"write the number between brackets: `{self.word} {self.name}[6] : ...`"


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
        example = EXAMPLES[self.word].split(":")[1].split("{")[0].strip()
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
        return f"name a device or a terminal on each side of `->`: `{EXAMPLES['cable']}`"


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
