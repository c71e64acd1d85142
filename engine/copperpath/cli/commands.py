"""What the commands on stations and models do. Heavy imports stay in functions that need them."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import timedelta
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import click

from copperpath.cli.exit_codes import GOOD, STANDS, WRONG
from copperpath.cli.say import say
from copperpath.cli.trouble import in_width
from copperpath.finding import Finding
from copperpath_grammar.diagnostics import Diagnostic, Level

if TYPE_CHECKING:
    from copperpath.catalogue import Catalogue
    from copperpath.cli.moment_option import Instant
    from copperpath.netlist.instant import Column
    from copperpath.pipeline import Loaded
    from copperpath.plugin_api.rule import Rule
    from copperpath.record.record import Record
    from copperpath.station import Station

BAD_LEVELS = (Level.DANGER, Level.FAIL)


def run_station(
    file: Path,
    *,
    step_s: float,
    as_json: bool,
    series: Path | None,
    plugins: Sequence[Path],
    case: str = "base",
    plot: Path | None = None,
) -> int:
    """Load, run, print, write the series and draw; the exit code. `case` is shown in full."""
    from copperpath.drawing.page import PictureProblem, check_picture_path
    from copperpath.report.series import SeriesProblem, check_series_path, write_series

    must_be_readable(file, *plugins)
    try:
        if series is not None:
            check_series_path(series)
        if plot is not None:
            check_picture_path(plot)
        loaded = read_station(file, plugins)
        if loaded.station is None:
            return refuse(file, loaded.diagnostics, as_json)
        must_have_case(loaded.station, case)
        # The table of cases shows no causes.
        record = _record(loaded.station, step_s, None if as_json else (case,))
        if series is not None:
            write_series(record, series, case)
        if plot is not None:
            _draw(record, plot, case)
    except (SeriesProblem, PictureProblem) as problem:
        raise click.ClickException(str(problem)) from problem
    if as_json:
        from copperpath.report.json import run_json

        say(run_json(record))
    else:
        from copperpath.report.run_screen import run_screen

        say(run_screen(record, case))
    met = all(each.met is True for each in record.requirements)
    stays = record.verdict.word in ("holds", "lasts")
    harms = any(each.level is Level.DANGER for one in record.cases for each in one.findings)
    return STANDS if not met or not stays or harms or _bad(record.findings) else GOOD


def _draw(record: Record, plot: Path, case: str) -> None:
    """Draw a case; a long run takes a few seconds."""
    from copperpath.cli.progress import Waiting

    with Waiting() as waiting:
        waiting("drawing")
        from copperpath.drawing.run_picture import save_run_picture

        save_run_picture(record, plot, case)


def check_station(file: Path, *, as_json: bool, plugins: Sequence[Path]) -> int:
    """Load and look at the wiring; the exit code."""
    must_be_readable(file, *plugins)
    loaded = read_station(file, plugins)
    if loaded.station is None:
        return refuse(file, loaded.diagnostics, as_json)
    with told_like_mistakes(loaded.station):
        findings = _wiring_findings(loaded.station)
    if as_json:
        from copperpath.report.json import check_json

        station = loaded.station
        say(check_json(str(file), [], findings, station.assumptions, station))
    else:
        from copperpath.report.check_screen import check_screen

        say(check_screen(loaded.station, findings))
    return STANDS if _bad(findings) else GOOD


def _wiring_findings(station: Station) -> tuple[Finding, ...]:
    """What the shape of the wiring and the rules give cause to say, worst first."""
    from copperpath.cli.progress import Waiting
    from copperpath.inquiry.judge import RuleFailedError, judge
    from copperpath.network.checks import check_network

    rules = all_rules()
    try:
        with Waiting() as waiting:
            judged = judge(station, rules, waiting)
    except RuleFailedError as problem:
        raise click.ClickException(in_width(problem)) from problem
    order = list(Level)
    # The rule says the same, with a remedy and what that yields.
    near = {each.subject for each in judged if each.rule == "battery-fuse-near"}
    shape = [
        each
        for each in check_network(station)
        if each.rule != "battery-lead-without-fuse" or each.subject not in near
    ]
    together = (*shape, *judged)
    return tuple(sorted(together, key=lambda finding: order.index(finding.level)))


def all_rules() -> tuple[type[Rule], ...]:
    """The installed rules, all of which must be in order."""
    from copperpath.inquiry.rule_catalogue import installed_rules

    installed = installed_rules()
    if installed.problems:
        raise click.ClickException("\n".join(str(problem) for problem in installed.problems))
    return installed.rules


def export_station(
    file: Path,
    *,
    at: Instant | None,
    step_s: float,
    column: Column,
    output: Path | None,
    plugins: Sequence[Path],
) -> int:
    """Run up to an instant and write its circuit as a netlist; the exit code."""
    must_be_readable(file, *plugins)
    if output is not None and (output.is_dir() or not output.parent.is_dir()):
        raise click.ClickException(f"{output} cannot be written: name a file in a folder there is")
    loaded = read_station(file, plugins)
    if loaded.station is None:
        return refuse(file, loaded.diagnostics, as_json=False)
    from copperpath.netlist.expression import CannotBeWritten
    from copperpath.netlist.instant import NotSolved, netlist_at

    after_s = 0.0 if at is None else _seconds_after(loaded.station, at)
    try:
        with run_told_like_mistakes(loaded.station, step_s):
            netlist = netlist_at(loaded.station, after_s=after_s, step_s=step_s, column=column)
    except NotSolved as problem:
        say(f"{file}: {problem}\n", error=True)
        return STANDS
    except CannotBeWritten as problem:
        raise click.ClickException(str(problem)) from problem
    if output is None:
        say(netlist.text)
        return GOOD
    try:
        output.write_text(netlist.text, encoding="ascii")
    except OSError as problem:
        raise click.ClickException(f"{output} cannot be written: {problem.strerror}") from problem
    return GOOD


def station_of(file: Path, plugins: Sequence[Path], case: str) -> Station | None:
    """The station of a file, or of one of its cases; None if the file has mistakes, which are
    printed then."""
    must_be_readable(file, *plugins)
    loaded = read_station(file, plugins)
    if loaded.station is None:
        refuse(file, loaded.diagnostics, as_json=False)
        return None
    must_have_case(loaded.station, case)
    return {each.title: each.station for each in loaded.station.cases}.get(case, loaded.station)


def read_station(file: Path, plugins: Sequence[Path]) -> Loaded:
    """The file as the pipeline reads it."""
    from copperpath.pipeline import load

    if plugins:
        catalogue_with(plugins)
    try:
        return load(file, plugins=tuple(plugins))
    except OSError as problem:
        raise click.ClickException(f"{file} cannot be read: {problem.strerror}") from problem


def _record(station: Station, step_s: float, causes_of: Sequence[str] | None) -> Record:
    """The run; what only turns out at this point is told like any other mistake of the file."""
    from copperpath.cli.progress import Waiting
    from copperpath.pipeline import run

    with run_told_like_mistakes(station, step_s), Waiting() as waiting:
        return run(station, step_s=step_s, progress=waiting, causes_of=causes_of)


@contextmanager
def run_told_like_mistakes(station: Station, step_s: float) -> Iterator[None]:
    """Around a run: what only turns out there becomes words."""
    from copperpath.cli.progress import tell_of_first_run

    for one in (station, *(case.station for case in station.cases)):
        _must_divide(step_s, one.site.lasts_s)
    tell_of_first_run(station)
    with told_like_mistakes(station):
        yield


@contextmanager
def told_like_mistakes(station: Station) -> Iterator[None]:
    """Around what is worked out from a station: what only turns out there becomes words."""
    from copperpath.network.refused import NetworkRefused
    from copperpath.site import SiteProblem

    try:
        yield
    except SiteProblem as problem:
        remedy = f"\n{problem.help}" if problem.help else ""
        raise click.ClickException(f"{station.source.name}: {problem.message}{remedy}") from problem
    except NetworkRefused as problem:
        from copperpath.report.findings import finding_lines

        lines = "\n".join(finding_lines(problem.findings, station))
        raise click.ClickException(f"{station.source.name} cannot be run\n{lines}") from problem


def _must_divide(step_s: float, lasts_s: float) -> None:
    """A usage mistake in words if a run is no whole number of steps."""
    if step_s > lasts_s:
        raise click.ClickException(
            f"a step of {step_s:g} s is longer than the station's {lasts_s:g} s"
        )
    if abs(lasts_s / step_s - round(lasts_s / step_s)) > 1e-9:
        raise click.ClickException(
            f"the station's {lasts_s / 3600.0:g} h are no whole number of steps of "
            f"{step_s:g} s\ntake a step that divides it, such as 60 s or 300 s"
        )


def must_have_case(station: Station, title: str) -> None:
    """A usage mistake in words if the file has no such case."""
    from copperpath.required import BASE

    titles = [BASE, *(case.title for case in station.cases)]
    if title in titles:
        return
    near = get_close_matches(title, titles, n=1)
    hint = f'; did you mean "{near[0]}"?' if near else ""
    known = ", ".join(f'"{each}"' for each in titles)
    raise click.ClickException(f'there is no case "{title}"{hint}\nthere are: {known}')


def _seconds_after(station: Station, at: Instant) -> float:
    """Seconds from the station's start to an instant of its run."""
    from copperpath.report.words import day_and_year, offset

    starts, lasts_s = station.site.starts, station.site.lasts_s
    after_s = at.after(starts)
    if not 0.0 <= after_s < lasts_s:
        ends = starts + timedelta(seconds=lasts_s)
        raise click.ClickException(
            f"{at.text} is outside the run, from {day_and_year(starts)} to before "
            f"{day_and_year(ends)} ({offset(starts)})"
            + ("" if at.day else "\na time without a date is on the first day")
        )
    return after_s


def catalogue_with(plugins: Sequence[Path]) -> Catalogue:
    """Installed models and those of the named files, all of which must be in order."""
    from copperpath.catalogue import installed_catalogue

    catalogue = installed_catalogue()
    for path in plugins:
        catalogue = catalogue.with_path(path)
    if catalogue.problems:
        raise click.ClickException("\n".join(str(problem) for problem in catalogue.problems))
    return catalogue


def must_be_readable(*paths: Path) -> None:
    """A usage mistake in words if a named file is missing, a folder, or closed to us."""
    for path in paths:
        if path.is_dir():
            raise click.ClickException(f"{path} is a folder; name a file in it")
        if not path.exists():
            raise click.ClickException(f"{path} does not exist{_nearest(path)}")
        if not os.access(path, os.R_OK):
            raise click.ClickException(f"{path} cannot be read: permission denied")


def _nearest(path: Path) -> str:
    """The file in the same folder whose name is nearest to a missing one."""
    try:
        names = [each.name for each in path.parent.iterdir() if each.is_file()]
    except OSError:
        return ""
    near = get_close_matches(path.name, names, n=1)
    return f"; did you mean {path.with_name(near[0])}?" if near else ""


def refuse(file: Path, diagnostics: Sequence[Diagnostic], as_json: bool) -> int:
    """Print the mistakes of a file that could not be built."""
    if as_json:
        from copperpath.report.json import check_json
        from copperpath_grammar.render_json import as_records

        say(check_json(str(file), as_records(diagnostics), (), ()))
        return WRONG
    from copperpath_grammar.render_text import render

    count = len(diagnostics)
    say(render(diagnostics), error=True)
    say(f"\n{file}: {count} mistake{'s' if count != 1 else ''}; nothing was run\n", error=True)
    say(_where_more_is_said(diagnostics), error=True)
    return WRONG


def _where_more_is_said(diagnostics: Sequence[Diagnostic]) -> str:
    """How to read on, said once for all mistakes of a file."""
    from copperpath.report.layout import paragraph

    codes = list(dict.fromkeys(each.code for each in diagnostics))
    if len(codes) == 1:
        return f"`copperpath explain {codes[0]}` says more\n"
    words = f"`copperpath explain CODE` says more: {', '.join(codes)}"
    return "\n".join(paragraph(words, indent="")) + "\n"


def _bad(findings: Sequence[Finding]) -> bool:
    return any(finding.level in BAD_LEVELS and not finding.accepted for finding in findings)
