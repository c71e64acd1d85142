"""What people write against the package, held to strict types by mypy; run by nobody."""

from __future__ import annotations

from pathlib import Path
from typing import assert_type

import pandas

import copperpath
from copperpath.plugin_api import FloatArray
from copperpath.record.record import Case, Ledger, Record, RequirementResult, Verdict
from copperpath.station import Station


def from_file_to_figures(path: Path) -> float:
    """Load, run, read the verdict, the ledger and a trace."""
    opened = copperpath.load(path)
    assert_type(opened.station, Station)
    record = opened.run(step_s=300.0)
    assert_type(record, Record)
    assert_type(record.base, Case)
    assert_type(record.verdict, Verdict)
    assert_type(record.verdict.word, str)
    assert_type(record.verdict.first_load, str | None)
    assert_type(record.base.ledger, Ledger)
    assert_type(record.base.traces["rig.voltage"].values, FloatArray)
    assert_type(record.frame(), pandas.DataFrame)
    assert_type(record.case("overcast"), Case)
    assert_type(record.case("overcast").verdict.word, str)
    assert_type(record.requirements[0].case, str)
    results: tuple[RequirementResult, ...] = record.base.requirements
    assert_type(results[0].met, bool | None)
    return record.base.ledger.sources / 3600.0


def mistakes_as_text(path: str) -> str:
    """What is wrong with a file, or nothing."""
    try:
        copperpath.load(path, plugins=[Path("my_models.py")])
    except copperpath.Failure as failure:
        return f"{len(failure.diagnostics)}: {failure}"
    return ""


def mistakes_that_types_catch(record: Record) -> None:
    """Each line is a type error on purpose, as a user might write it, and the `ignore` is its test:
    mypy runs with `warn_unused_ignores`, so that it fails here once it no longer sees the
    mistake."""
    record.step_s = 1.0  # type: ignore[misc]  # meant as a mistake: a record is frozen
    record.base.ledger.sources = 0.0  # type: ignore[misc]  # meant as one: so is all that is in it
    one = record.base.traces["rig.current"]
    record.base.traces["rig.voltage"] = one  # type: ignore[index]  # meant: traces are to be read
    copperpath.load(3)  # type: ignore[arg-type]  # meant: a file is named by text or by a path
    copperpath.load("a.station").run(300.0)  # type: ignore[call-arg]  # meant: a step goes by name
