"""The steps in order: text, nodes, station, network, site, problem, solution, record.

Read this file from top to bottom to know what happens to a station file.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from copperpath.build import build
from copperpath.catalogue import Catalogue, installed_catalogue
from copperpath.record.record import Record
from copperpath.station import Station
from copperpath_grammar import Diagnostic, ParseResult, parse, read_file

Progress = Callable[[str], None]
"""Told in a few words what is being done."""

DEFAULT_STEP_S = 60.0


@dataclass(frozen=True, slots=True)
class Loaded:
    """A file read: the station, or None and the reasons."""

    station: Station | None
    diagnostics: tuple[Diagnostic, ...]


class PluginTrouble(Exception):
    """A plugin file that the caller named cannot be used; the text says why."""


def load(path: str | Path, *, plugins: Sequence[Path] = ()) -> Loaded:
    """Read a station file. Opening one never runs code; `plugins` are files that the caller names.

    Parameters
    ----------
    path : str or Path
        The file.
    plugins : sequence of Path
        Python files with further device models.

    Raises
    ------
    OSError
        If the file cannot be read.
    PluginTrouble
        If a named plugin cannot be used.
    """
    place = Path(path)
    text, problems = read_file(place, str(path))
    if problems:
        return Loaded(None, problems)
    return load_text(text, name=str(path), folder=place.parent, plugins=plugins)


def load_text(
    text: str, *, name: str = "<text>", folder: Path | None = None, plugins: Sequence[Path] = ()
) -> Loaded:
    """The same for a text; `folder` is where files it names may lie (None: nowhere)."""
    parsed = parse(text, name)
    if parsed.file is None:
        return Loaded(None, parsed.diagnostics)
    return build_parsed(parsed, catalogue_with(plugins), folder)


def catalogue_with(plugins: Sequence[Path] = ()) -> Catalogue:
    """The installed models and those of files that the caller names.

    Raises
    ------
    PluginTrouble
        If a named plugin cannot be used.
    """
    catalogue = installed_catalogue()
    for plugin in plugins:
        catalogue = catalogue.with_path(plugin)
    if plugins and catalogue.problems:
        raise PluginTrouble("\n".join(str(problem) for problem in catalogue.problems))
    return catalogue


def build_parsed(parsed: ParseResult, catalogue: Catalogue, folder: Path | None) -> Loaded:
    """The same for a text that is parsed already."""
    if parsed.file is None:
        return Loaded(None, parsed.diagnostics)
    built = build(parsed.file, parsed.source, catalogue, folder)
    diagnostics = _in_order(parsed, built.diagnostics)
    return Loaded(None if diagnostics else built.station, diagnostics)


def _in_order(parsed: ParseResult, built: Sequence[Diagnostic]) -> tuple[Diagnostic, ...]:
    """All mistakes: those of the file by their place, then those of the files it includes."""
    name = parsed.source.name
    mine = [each for each in built if each.span.source.name == name]
    others = [each for each in built if each.span.source.name != name]
    return (*sorted((*parsed.diagnostics, *mine), key=lambda d: d.span.start), *others)


def run(
    station: Station,
    *,
    step_s: float = DEFAULT_STEP_S,
    progress: Progress | None = None,
    executor: str = "",
    causes_of: Collection[str] | None = None,
) -> Record:
    """Run a station over its stated time, and each of its cases.

    Parameters
    ----------
    station : Station
        As loaded.
    step_s : float
        Length of a step [s].
    progress : callable, optional
        Told in a few words what is being done.
    executor : str
        "" for the best that can be had, "compiled" or "twin".
    causes_of : collection of str, optional
        Titles of the cases in which the cause of running down is looked for, which takes further
        runs; all of them if left out. For the station itself it always is.

    Raises
    ------
    SiteProblem
        If the site cannot be worked out (measured light that ends too early).
    NetworkRefused
        If this version cannot solve the network.
    """
    from copperpath.record.run import make_run
    from copperpath.study.band import find_band
    from copperpath.study.case import make_case
    from copperpath.study.executors import choose_executor
    from copperpath.study.lay_out import lay_out
    from copperpath.study.over_cases import over_cases, run_cases

    say = progress or (lambda words: None)
    say("sun and sky")
    problem, structural = lay_out(station, step_s)
    chosen = choose_executor(executor)
    say("operating points over time")
    one = make_run(problem, chosen.solve(problem))
    say("verdict and what would change it")
    base = make_case(one, chosen, structural)
    band = find_band(one, chosen, say)
    cases = (base, *run_cases(station.cases, step_s, chosen, say, causes_of))
    return Record(station, step_s, cases, over_cases(cases, band), band)
