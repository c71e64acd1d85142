"""Traces of a run as a file, CSV or Parquet, a row a step, units in the headings."""

from __future__ import annotations

import os
from importlib.util import find_spec
from pathlib import Path

from copperpath.record.record import Record
from copperpath.required import BASE

SUFFIXES = (".csv", ".parquet")


class SeriesProblem(Exception):
    """Why a series cannot be written there, in words for the person who asked."""


def check_series_path(path: Path) -> None:
    """Find out before a long run whether its series could be written.

    Raises
    ------
    SeriesProblem
        If the ending is unknown, the folder is missing or closed, or Parquet is not installed.
    """
    if path.suffix.lower() not in SUFFIXES:
        ending = f"`{path.suffix}`" if path.suffix else "no ending"
        raise SeriesProblem(
            f"{path} has {ending}; a series is written as .csv or .parquet, such as run.csv"
        )
    if path.is_dir():
        raise SeriesProblem(f"{path} is a folder; name a file in it")
    folder = path.parent
    if not folder.is_dir():
        raise SeriesProblem(f"the folder {folder} does not exist; make it first")
    if not os.access(path if path.exists() else folder, os.W_OK):
        raise SeriesProblem(f"{path} cannot be written: permission denied")
    if path.suffix.lower() == ".parquet" and find_spec("pyarrow") is None:
        raise SeriesProblem(
            "writing .parquet needs a further package; "
            "`pip install 'copperpath[parquet]'` adds it, or write .csv"
        )


def write_series(record: Record, path: Path, case: str = BASE) -> None:
    """Write the traces of one case; the file appears whole or not at all.

    Raises
    ------
    SeriesProblem
        If it cannot be written.
    """
    check_series_path(path)
    frame = record.frame(case)
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        if path.suffix.lower() == ".csv":
            frame.index = frame.index.map(lambda when: when.isoformat(timespec="seconds"))
            frame.to_csv(beside, float_format="%.9g", index_label="time")
        else:
            frame.to_parquet(beside)
        beside.replace(path)
    except OSError as problem:
        raise SeriesProblem(f"{path} cannot be written: {problem.strerror}") from problem
    finally:
        beside.unlink(missing_ok=True)
