"""Mistakes about the site: place, times, sky, air, and files of measured light."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from copperpath_grammar.diagnostics import Diagnostic, Label
from copperpath_grammar.source import Span


@dataclass(frozen=True, slots=True)
class StartWithoutOffset(Diagnostic):
    """A time that does not say on whose clock it is."""

    written: str
    code: ClassVar[str] = "build/starts-without-offset"

    @property
    def message(self) -> str:
        return "`starts` does not say how far its clock is from UTC, so the sun cannot be placed"

    @property
    def help(self) -> str:
        return (
            f"add the offset of the clock you will wear: `starts {self.written} +03:00`; "
            "`+00:00` is UTC itself"
        )


@dataclass(frozen=True, slots=True)
class NoSuchOffset(Diagnostic):
    """An offset that no clock on earth has."""

    written: str
    code: ClassVar[str] = "build/no-such-offset"

    @property
    def message(self) -> str:
        return f"no clock is as far from UTC as `{self.written}` says"

    @property
    def help(self) -> str:
        return "offsets lie between -12:00 and +14:00"


@dataclass(frozen=True, slots=True)
class NoSuchPlace(Diagnostic):
    """Degrees beyond a pole or the date line."""

    written: str
    most: str
    code: ClassVar[str] = "build/no-such-place"

    @property
    def message(self) -> str:
        return f"`{self.written}` is not on the map: {self.most}"

    @property
    def help(self) -> str:
        return (
            "write degrees north or south (up to 90), then east or west (up to 180), such as "
            "`64.22 N, 27.73 E`"
        )


@dataclass(frozen=True, slots=True)
class SkyHidden(Diagnostic):
    """A sky for all days after one for some."""

    earlier: Span
    code: ClassVar[str] = "build/sky-hidden"

    @property
    def message(self) -> str:
        return "this `sky` covers every day, so the dated one above it has no effect"

    @property
    def help(self) -> str:
        return "write the `sky` without a date first; later lines win"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.earlier, "without effect"),)


@dataclass(frozen=True, slots=True)
class TwoSkies(Diagnostic):
    """Two skies for every day, or a file and something beside it."""

    first: Span
    measured: bool
    code: ClassVar[str] = "build/two-skies"

    @property
    def message(self) -> str:
        if self.measured:
            return "a file of measured light stands alone; there is another `sky` beside it"
        return "`sky` for every day is given twice"

    @property
    def help(self) -> str:
        return "keep one of the two, or give one of them a date: `sky 30 % of clear on 2026-06-20`"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "the other one"),)


@dataclass(frozen=True, slots=True)
class MonthTwice(Diagnostic):
    """One month in two lines of the same entry."""

    name: str
    month: str
    first: Span
    code: ClassVar[str] = "build/month-twice"

    @property
    def message(self) -> str:
        return f"`{self.name}` is given twice for {self.month}"

    @property
    def label(self) -> str:
        return "again here"

    @property
    def help(self) -> str:
        return "keep one of the two; `from november to february` holds the months between as well"

    @property
    def further(self) -> tuple[Label, ...]:
        return (Label(self.first, "first here"),)


@dataclass(frozen=True, slots=True)
class MonthsMissing(Diagnostic):
    """An entry by month that says nothing of months in which the station runs."""

    name: str
    missing: tuple[str, ...]
    example: str
    code: ClassVar[str] = "build/months-missing"

    @property
    def message(self) -> str:
        months = ", ".join(self.missing)
        return f"`{self.name}` says nothing of {months}, and the station runs then"

    @property
    def help(self) -> str:
        return (
            f"give the month its line, `{self.name} {self.example} in {self.missing[0]}`, or one "
            f"line without a month for the rest of the year"
        )


@dataclass(frozen=True, slots=True)
class MeanWithoutMonth(Diagnostic):
    """A mean light a day that belongs to no month."""

    written: str
    code: ClassVar[str] = "build/mean-without-month"

    @property
    def message(self) -> str:
        return "a mean of so much light a day is that of a month; this line does not say which"

    @property
    def help(self) -> str:
        return f"write the month behind it: `sky {self.written} in december`"


@dataclass(frozen=True, slots=True)
class DirectionTwice(Diagnostic):
    """Two heights of the horizon in one direction."""

    written: str
    code: ClassVar[str] = "build/direction-twice"

    @property
    def message(self) -> str:
        return f"the horizon has two heights at {self.written}"

    @property
    def help(self) -> str:
        return "keep one of the two; a word and an angle may be the same: east is 90 deg"


@dataclass(frozen=True, slots=True)
class ColderThanRecord(Diagnostic):
    """A record low above the air that the file itself states."""

    written: str
    code: ClassVar[str] = "build/colder-than-record"

    @property
    def message(self) -> str:
        return f"`air` goes below the coldest on record, {self.written}"

    @property
    def help(self) -> str:
        return "the record low is at most the coolest air of the file; look at both"


@dataclass(frozen=True, slots=True)
class DatesBackwards(Diagnostic):
    """`from` a later day `to` an earlier one."""

    code: ClassVar[str] = "build/dates-backwards"

    @property
    def message(self) -> str:
        return "this goes from a later day to an earlier one"

    @property
    def help(self) -> str:
        return "write the earlier day first; both days are included"


@dataclass(frozen=True, slots=True)
class DaysOutside(Diagnostic):
    """A dated sky, or dated hours, outside the run."""

    written: str
    run: str
    code: ClassVar[str] = "build/days-outside"

    @property
    def message(self) -> str:
        return f"{self.written} is outside the run, which goes {self.run}"

    @property
    def help(self) -> str:
        return "look at the date, or take the line out"


@dataclass(frozen=True, slots=True)
class SkyFile(Diagnostic):
    """A file of measured light that cannot be used; all its mistakes in one message."""

    path: str
    reason: str
    advice: str
    code: ClassVar[str] = "build/sky-file"

    @property
    def message(self) -> str:
        return f"`{self.path}` cannot be used: {self.reason}"

    @property
    def help(self) -> str:
        return self.advice
