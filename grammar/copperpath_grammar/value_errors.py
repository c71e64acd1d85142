"""Mistakes inside a single value or sign: numbers, units, times, dates, texts, odd characters."""

from __future__ import annotations

from dataclasses import dataclass

from copperpath_grammar.diagnostics import Diagnostic

# ---- numbers and units ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class DecimalComma(Diagnostic):
    """`0,5 A`; `better` is the value with a dot."""

    text: str
    better: str
    code = "syntax/decimal-comma"

    @property
    def message(self) -> str:
        return f"`{self.text}` has a decimal comma"

    @property
    def help(self) -> str:
        return f"write `{self.better}`; between two values put a blank after the comma"


@dataclass(frozen=True, slots=True)
class ThousandsComma(Diagnostic):
    """`12,000 W`; may also be meant as a decimal."""

    text: str
    whole: str
    decimal: str
    code = "syntax/thousands-comma"

    @property
    def message(self) -> str:
        return f"`{self.text}` has a comma inside a number"

    @property
    def help(self) -> str:
        if not self.decimal:
            return f"write `{self.whole}`"
        return f"write `{self.whole}`, or `{self.decimal}` if the comma was a decimal one"


@dataclass(frozen=True, slots=True)
class BareDot(Diagnostic):
    """`.5` or `5.`."""

    text: str
    better: str
    code = "syntax/bare-dot"

    @property
    def message(self) -> str:
        where = "begins" if self.text.startswith(".") else "ends"
        return f"the number `{self.text}` {where} with a dot"

    @property
    def help(self) -> str:
        return f"write `{self.better}`"


@dataclass(frozen=True, slots=True)
class UnbelievableNumber(Diagnostic):
    """A number too large, too small or too long to be anything at a station."""

    reason: str
    code = "syntax/unbelievable-number"

    @property
    def message(self) -> str:
        return f"this number {self.reason}"

    @property
    def help(self) -> str:
        return "no figure of a station needs that; check its digits and its exponent"


@dataclass(frozen=True, slots=True)
class BadWay(Diagnostic):
    """`strip.1.5` or `strip.1e3`."""

    text: str
    code = "syntax/bad-terminal-number"

    @property
    def message(self) -> str:
        return f"`{self.text}` is not the number of a terminal"

    @property
    def help(self) -> str:
        return "numbered terminals are written with a whole number, such as `strip.1`"


@dataclass(frozen=True, slots=True)
class UnitWithoutNumber(Diagnostic):
    """`power W`."""

    unit: str
    code = "syntax/unit-without-number"

    @property
    def message(self) -> str:
        return f"the unit `{self.unit}` has no number before it"

    @property
    def help(self) -> str:
        return f"write the number and the unit, such as `5 {self.unit}`"


# ---- times ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class BadClock(Diagnostic):
    """`6:5`, `25:00`, `06:00:00`; `better` is the time as it should be written, if clear."""

    text: str
    reason: str
    better: str
    code = "syntax/bad-clock"

    @property
    def message(self) -> str:
        return f"`{self.text}` is not a time of day: {self.reason}"

    @property
    def help(self) -> str:
        if self.text == "24:00":
            return "write `00:00` with the date of the next day"
        if self.better:
            return f"write `{self.better}`"
        return "times run from 00:00 to 24:00, such as `06:00` or `23:30`"


@dataclass(frozen=True, slots=True)
class BadOffset(Diagnostic):
    """An offset from UTC that no place has, or one written in another way."""

    text: str
    code = "syntax/bad-offset"

    @property
    def message(self) -> str:
        return f"`{self.text}` is not an offset from UTC"

    @property
    def help(self) -> str:
        return "write hours and minutes with a sign, `+03:00`; for UTC itself `+00:00`"


@dataclass(frozen=True, slots=True)
class BadDate(Diagnostic):
    """A day that no calendar has."""

    text: str
    reason: str
    code = "syntax/bad-date"

    @property
    def message(self) -> str:
        return f"`{self.text}` is not a date: {self.reason}"

    @property
    def help(self) -> str:
        return "dates are written year-month-day, such as `2026-06-19`"


@dataclass(frozen=True, slots=True)
class DateOrder(Diagnostic):
    """`19.06.2026`."""

    text: str
    better: str
    code = "syntax/date-order"

    @property
    def message(self) -> str:
        return f"`{self.text}` looks like a date, but dates are written year-month-day"

    @property
    def help(self) -> str:
        return f"write `{self.better}`"


@dataclass(frozen=True, slots=True)
class LetterInMoment(Diagnostic):
    """`2026-06-19T08:00`."""

    text: str
    better: str
    code = "syntax/letter-in-moment"

    @property
    def message(self) -> str:
        return f"between a date and a time stands a blank, not a letter as in `{self.text}`"

    @property
    def help(self) -> str:
        return f"write `{self.better}`"


# ---- texts and characters -------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class UnclosedText(Diagnostic):
    """A double quote without its partner on the same line; `span` is the quote."""

    code = "syntax/unclosed-text"

    @property
    def message(self) -> str:
        return "this text is not closed before the end of the line"

    @property
    def label(self) -> str:
        return "opened here"

    @property
    def help(self) -> str:
        return 'write a second `"` where the text ends'


@dataclass(frozen=True, slots=True)
class WrongQuotes(Diagnostic):
    """Single or typographic quotes."""

    text: str
    code = "syntax/wrong-quotes"

    @property
    def message(self) -> str:
        return f"text stands in straight double quotes, not in `{self.text[0]}...{self.text[-1]}`"

    @property
    def help(self) -> str:
        return f'write `"{self.text[1:-1]}"`'


@dataclass(frozen=True, slots=True)
class SlashComment(Diagnostic):
    """`// comment`."""

    code = "syntax/slash-comment"

    @property
    def message(self) -> str:
        return "a comment begins with `#`, not with `//`"

    @property
    def help(self) -> str:
        return "write `#` in place of `//`"


@dataclass(frozen=True, slots=True)
class Lookalike(Diagnostic):
    """A sign that looks like one of the language's: `≥`, `→`, `–`, `×`."""

    found: str
    better: str
    code = "syntax/lookalike"

    @property
    def message(self) -> str:
        return f"`{self.found}` is not a sign of station files"

    @property
    def help(self) -> str:
        return f"write {self.better}"


@dataclass(frozen=True, slots=True)
class OddCharacter(Diagnostic):
    """A character that nothing in a station file uses; `name` says it in words."""

    shown: str
    name: str
    code = "syntax/odd-character"

    @property
    def message(self) -> str:
        return f"the character {self.shown} has no place outside texts and comments"

    @property
    def label(self) -> str:
        return self.name

    @property
    def help(self) -> str:
        return "take it away"
