"""Station files made at random that the grammar accepts: every kind of statement, in every layout
that a person might leave behind. A seed always makes the same file."""

from __future__ import annotations

from itertools import pairwise
from random import Random

NAMES = (
    "rig",
    "pack",
    "strip",
    "a",
    "left_blanket",
    "case",
    "on_shore",
    "data",
    "kit",
    "Ærø",
    "x9",
)
UNITS = ("V", "A", "Ah", "%", "mm2", "mm²", "Wh/day", "%/K", "degC", "°C", "ohm", "h", "m", "in")
JOINERS = ("at", "from", "to", "on", "every", "within", "of", "otherwise", "and")
KINDS = ("source", "converter", "storage", "block", "load")
REMARKS = ("# a remark", "#", "#tight", "#   wide  # twice", '# "quoted" { ; }', "# blå °")
NO_BLANK_NEEDED = set("()[]{},;:=") | {"->", "..", ">=", "<=", "<", ">"}


HERE, BELOW = "\x01", "\x02"
"""Where a remark stands, and where one stands that goes on below it, until all is written."""


def below_each_other(text: str) -> str:
    """The text with its remarks in the columns that they were meant for."""
    lines: list[str] = []
    column = 0
    for line in text.split("\n"):
        if HERE in line:
            column = len(line.partition(HERE)[0].expandtabs())
        lines.append(line.replace(HERE, "").replace(BELOW, " " * column))
    return "\n".join(lines)


class Writer:
    """Writes one file."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.tidy = self.random.random()
        """How often this author writes a plain single blank."""

    def file(self) -> str:
        """A whole file."""
        count = self.random.randint(1, 14)
        lines = self.gap(start=True)
        for place in range(count):
            lines += self.statement()
            lines += self.gap(last=place == count - 1)
        lines = below_each_other(lines)
        text = lines if self.chance(0.8) else "\ufeff" + lines
        return text.replace("\n", self.random.choice(["\n", "\n", "\n", "\r\n", "\r"]))

    # ---- statements -------------------------------------------------------------------------

    def statement(self) -> str:
        """One statement of any kind."""
        kinds = ("station", "part", "assembly", "case", "include", "thing", "thing", "cable")
        kind = self.random.choice((*kinds, "cable", "let", "require", "never", "bond", "data"))
        return str(getattr(self, kind)())

    def station(self) -> str:
        return self.words("station", self.text()) + self.body()

    def part(self) -> str:
        return self.words("part", self.name(), ":", self.name()) + self.body()

    def thing(self) -> str:
        counted = [self.name()]
        if self.chance(0.2):
            counted += ["[", str(self.random.randint(1, 9)), "]"]
        word = self.random.choice((*KINDS, "kit"))
        return self.words(word, *counted, ":", self.name()) + self.body()

    def cable(self) -> str:
        return self.words("cable", *self.path(), "->", *self.path()) + self.body()

    def let(self) -> str:
        return self.words("let", self.name(), "=", *self.value())

    def require(self) -> str:
        subject = self.path()
        while subject[-1][-1].isdigit():  # after a bare number the next word would be its unit
            subject = self.path()
        claim = self.random.choice(
            [
                ["holds"],
                [*subject, "powered", "throughout"],
                [*subject, "powered", "for", *self.sum()],
                [*subject, self.random.choice([">=", "<", "<=", ">"]), *self.sum()],
            ]
        )
        in_cases = [["in", "every", "case"], ["in", "case", self.text(), ",", self.text()]]
        cases = [[]] if claim[-1][-1].isdigit() else [[], *in_cases]
        return self.words("require", *claim, *self.random.choice(cases))

    def never(self) -> str:
        return self.words("never", "together", *self.path(), ",", *self.path())

    def bond(self) -> str:
        return self.words("bond", *self.path(), "to", *self.path())

    def data(self) -> str:
        head = self.words("data", *self.path(), "->", *self.path())
        return head + self.blank() + self.braces(self.entry) if self.chance(0.5) else head

    def include(self) -> str:
        library = ["library"] if self.chance(0.5) else []
        return self.words("include", *library, self.text())

    def assembly(self) -> str:
        parameters: list[str] = []
        if self.chance(0.7):
            parameters = ["(", self.name(), ",", self.name(), "=", *self.sum(), ")"]
        if self.chance(0.1):
            parameters = ["(", ")"]
        inside = ("let", "thing", "cable", "require", "never", "bond", "data", "expose")
        return self.words("assembly", self.name(), *parameters) + self.body(*inside)

    def expose(self) -> str:
        terminal = self.random.choice(["in", "on", "3", "rig"])
        return self.words("expose", terminal, "->", *self.path())

    def case(self) -> str:
        inside = ("setting", "let", "part", "thing", "cable", "never", "change", "without")
        return self.words("case", self.text()) + self.body(*inside)

    def setting(self) -> str:
        return self.entry(("sky", "air", "lasts", "on", "at"))

    def change(self) -> str:
        cable = ["cable", *self.path(), "->", *self.path()]
        return self.words("change", *(cable if self.chance(0.5) else self.path())) + self.body()

    def without(self) -> str:
        return self.words("without", *self.path(), ",", "cable", *self.path(), "->", *self.path())

    # ---- bodies -----------------------------------------------------------------------------

    def body(self, *kinds: str) -> str:
        """Braces with entries, or with lines of the named kinds."""
        before = self.blank()
        if self.chance(0.1):
            before = self.gap(semicolons=False)
        return before + self.braces(*(getattr(self, kind) for kind in kinds or ("entry",)))

    def braces(self, *makers: object) -> str:
        """Braces on one line or on several."""
        several = self.chance(0.5)
        count = self.random.randint(0, 6)
        text = "{" + (self.gap(start=True) if several else self.blank())
        for place in range(count):
            maker = self.random.choice(makers)
            assert callable(maker)
            text += str(maker())
            last = place == count - 1
            if several:
                text += self.gap(last=last)
            else:
                text += self.blank() if last else f"{self.blank()};{self.blank()}"
        return text + "}"

    def entry(self, names: tuple[str, ...] = (*NAMES, "conductor_temperature", "on")) -> str:
        words = [self.random.choice(names)]
        if self.chance(0.9):
            if self.chance(0.1):
                words.append("on")
            words += self.value()
            for _ in range(self.random.choice([0, 0, 1, 2])):
                words += self.random.choice([[","], [self.joiner()], [",", self.joiner()]])
                words += self.value()
        return self.words(*words)

    def gap(self, *, start: bool = False, last: bool = False, semicolons: bool = True) -> str:
        """What stands between two lines: a break, remarks, blank lines, a stray `;`."""
        text = self.blank()
        if semicolons and self.chance(0.25):
            text += ";" + self.blank()
            if self.chance(0.5):
                return text
        if (start or last) and self.chance(0.3):
            return text
        if self.chance(0.3):
            text += HERE + self.random.choice(REMARKS) + self.random.choice(["", "  ", "\t"])
            if self.chance(0.3):
                text += f"\n{BELOW}# below"
        for _ in range(self.random.choice([1, 1, 1, 2, 3])):
            text += "\n" + self.blank()
            if self.chance(0.2):
                text += self.random.choice(REMARKS) + "\n" + self.blank()
        return text

    # ---- values -----------------------------------------------------------------------------

    def value(self) -> list[str]:
        words = self.sum()
        return [*words, "..", *self.sum()] if self.chance(0.2) else words

    def sum(self) -> list[str]:
        words = self.atom()
        while self.chance(0.2):
            words += [self.random.choice(["+", "-", "*", " / "]), *self.atom()]
        return words

    def atom(self) -> list[str]:
        sort = self.random.randrange(14)
        if sort == 0:
            return ["(", *self.sum(), ")"]
        if sort == 1:
            return ["-", *self.atom()]
        if sort == 2:
            return [self.random.choice(["AWG 14", "AWG14", "14 AWG", "2/0  AWG", "4/0awg"])]
        if sort == 3:
            return [f"{self.random.randrange(24):02}:{self.random.randrange(60):02}"]
        if sort == 4:
            day = f"2026-06-{self.random.randint(1, 30):02}"
            return [self.random.choice([day, f"{day} 08:00", f"{day}  8:00+03:00"])]
        if sort == 5:
            return [self.text()]
        if sort in (6, 7):
            return self.path()
        number = self.random.choice(["5", "0.35", "12", "2e3", "1.5E-2"])
        if sort == 8:
            return [number]
        return [number + self.random.choice(["", " ", "  ", "\xa0"]) + self.random.choice(UNITS)]

    def path(self) -> list[str]:
        words = [self.name()]
        if self.chance(0.2):
            words += self.index()
        if self.chance(0.5):
            words += [".", self.random.choice(["in", "on", "battery", "line"])]
            if self.chance(0.1):
                words += self.index()
        elif self.chance(0.2):
            words += [".", *self.index()]
        elif self.chance(0.2):
            words[-1] += self.random.choice([".3", ".3.line"])  # no number has a dot at its end
        return words

    def index(self) -> list[str]:
        last = ["..", str(self.random.randint(4, 9))] if self.chance(0.5) else []
        return ["[", str(self.random.randint(1, 3)), *last, "]"]

    def name(self) -> str:
        return self.random.choice(NAMES)

    def joiner(self) -> str:
        return self.random.choice(JOINERS)

    def text(self) -> str:
        return self.random.choice(['"overcast"', '"a # b { ; }"', '"say ""73"""', '""'])

    # ---- blanks -----------------------------------------------------------------------------

    def words(self, *words: str) -> str:
        """Words in a row, with blanks where they are needed and others where they may be."""
        text = words[0]
        for before, word in pairwise(words):
            signs = NO_BLANK_NEEDED | set(".+-*")
            gauge = word == ".." and before.startswith("AWG")  # `AWG14..` would be a name
            comma = before == "," and word[:1].isdigit()  # `5,5` would be a decimal comma
            needed = gauge or comma or (before not in signs and word not in signs)
            text += (self.blank() or " " if needed else self.blank()) + word
        return text

    def blank(self) -> str:
        if self.chance(self.tidy):
            return " "
        return self.random.choice(["", "", "  ", "\t", "     ", "\xa0", "\u2003"])

    def chance(self, share: float) -> bool:
        return self.random.random() < share


def station_text(seed: int) -> str:
    """The file of a seed."""
    return Writer(seed).file()
