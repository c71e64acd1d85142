"""What `copperpath format` does: canonical form in place, or only told of."""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from difflib import unified_diff
from pathlib import Path

import click

from copperpath.cli.commands import must_be_readable
from copperpath.cli.exit_codes import GOOD, STANDS, WRONG
from copperpath.cli.say import ReaderGone, say
from copperpath_grammar import Diagnostic, decode

STANDARD = Path("-")
STANDARD_NAME = "<standard input>"


@dataclass(frozen=True, slots=True)
class Form:
    """A file's bytes, and those of its canonical form; or its mistakes."""

    name: str
    data: bytes
    wanted: bytes
    diagnostics: tuple[Diagnostic, ...]

    @property
    def changes(self) -> bool:
        """True if the file has another form than the canonical one."""
        return not self.diagnostics and self.data != self.wanted


def format_files(files: Sequence[Path], *, check: bool, diff: bool) -> int:
    """Format the files, or tell which would change; the exit code."""
    if STANDARD in files and len(files) > 1:
        raise click.UsageError("`-` stands alone: it is the one text to read")
    must_be_readable(*(file for file in files if file != STANDARD))
    for file in files:
        if file != STANDARD and not file.is_file():
            raise click.ClickException(f"{file} is no file that could be written; `-` reads a pipe")
    code = GOOD
    for file in files:
        form = _form(file)
        if form.diagnostics:
            _tell_mistakes(form)
            code = WRONG
            continue
        if diff:
            _write_out(_difference(form))
        if check and form.changes:
            say(f"{form.name}: would change\n")
            code = max(code, STANDS)
        if file == STANDARD and not (check or diff):
            _write_out(form.wanted)
        elif not (check or diff):
            _put(file, form)
    if check and code == GOOD:
        say("nothing would change\n")
    return code


def _form(file: Path) -> Form:
    """Read one file and work out its form."""
    from copperpath_grammar.formatter import format_text

    name = STANDARD_NAME if file == STANDARD else str(file)
    try:
        data = sys.stdin.buffer.read() if file == STANDARD else file.read_bytes()
    except OSError as problem:
        raise click.ClickException(f"{name} cannot be read: {problem.strerror}") from problem
    text, problems = decode(data, name)
    if problems:
        return Form(name, data, data, problems)
    formatted = format_text(text, name)
    return Form(name, data, formatted.text.encode("utf-8"), formatted.diagnostics)


def _tell_mistakes(form: Form) -> None:
    from copperpath_grammar.render_text import render

    count = len(form.diagnostics)
    say(render(form.diagnostics), error=True)
    say(f"\n{form.name}: {count} mistake{'s' if count != 1 else ''}; left as it is\n", error=True)


def _difference(form: Form) -> bytes:
    """The change as a unified diff, with its line ends as they are."""
    texts = (data.decode("utf-8") for data in (form.data, form.wanted))
    before, after = (re.findall(r"[^\n]*\n|[^\n]+", text) for text in texts)
    lines = unified_diff(before, after, form.name, f"{form.name} (formatted)")
    ended = (
        line if line.endswith("\n") else f"{line}\n\\ No newline at end of file\n" for line in lines
    )
    return "".join(ended).encode("utf-8")


def _write_out(data: bytes) -> None:
    """Station text on standard output is UTF-8 with plain line ends, whatever the terminal."""
    try:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    except BrokenPipeError as problem:
        raise ReaderGone from problem


def _put(file: Path, form: Form) -> None:
    """Write the form in place of the file, at once or not at all."""
    if not form.changes:
        say(f"{form.name}: unchanged\n")
        return
    place = file.resolve()  # a link stays one
    try:
        if not os.access(place, os.W_OK):
            raise PermissionError(None, "permission denied")
        _replace(place, form.wanted)
    except OSError as problem:
        raise click.ClickException(
            f"{form.name} cannot be written: {problem.strerror}"
        ) from problem
    say(f"{form.name}: formatted\n")


def _replace(place: Path, data: bytes) -> None:
    """Put new bytes in place of a file; its mode and its owner stay."""
    before = place.stat()
    handle, name = tempfile.mkstemp(dir=place.parent, prefix=f".{place.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if hasattr(os, "chown"):
            with suppress(PermissionError):
                os.chown(name, before.st_uid, before.st_gid)
        os.chmod(name, before.st_mode & 0o7777)
        os.replace(name, place)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise
