"""Mistakes in how entries and calculations are put together."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.diagnostics import Diagnostic

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
        return f"`{self.sign}` cannot stand between an entry and its value"

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
        return "a comparison cannot stand between braces"

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
    """Two values with nothing between them."""

    first: str
    second: str
    advice: str = ""
    code = "syntax/side-by-side"

    @property
    def message(self) -> str:
        return f"`{self.first}` and `{self.second}` stand side by side with nothing between them"

    @property
    def help(self) -> str:
        return self.advice or (
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
