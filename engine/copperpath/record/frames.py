"""A record on its way out to people who work in Python: frames, quantities, notebooks.

pandas and pint are imported only when asked for.
"""

from __future__ import annotations

from datetime import timedelta, timezone
from html import escape
from typing import TYPE_CHECKING, Any

from copperpath.record.record import Case, Record, Trace

if TYPE_CHECKING:
    import pandas


def find_case(record: Record, name: str) -> Case:
    """The case of that name.

    Raises
    ------
    KeyError
        If there is none; the message lists those there are.
    """
    for case in record.cases:
        if case.name == name:
            return case
    names = ", ".join(case.name for case in record.cases)
    raise KeyError(f"no case `{name}`; there are: {names}")


def find_trace(case: Case, name: str) -> Trace:
    """The trace of that name.

    Raises
    ------
    KeyError
        If there is none; the message lists the nearest.
    """
    if name in case.traces:
        return case.traces[name]
    from difflib import get_close_matches

    near = get_close_matches(name, list(case.traces), n=3) or list(case.traces)[:5]
    raise KeyError(f"no trace `{name}`; nearest: {', '.join(near)}")


def heading(trace: Trace) -> str:
    """Name and unit, `rig.voltage [V]`; a share has no unit."""
    return f"{trace.name} [{trace.unit}]" if trace.unit else trace.name


def traces_frame(record: Record, case: str = "base") -> pandas.DataFrame:
    """Traces of a case, a column a trace, a row a step.

    Parameters
    ----------
    case : str
        Name of the case.

    Returns
    -------
    pandas.DataFrame
        Indexed by the start of each step in the station's own clock; a column's heading has
        its unit.
    """
    import pandas

    found = find_case(record, case)
    ahead = found.station.site.starts.utcoffset() or timedelta(0)
    index = pandas.DatetimeIndex(
        pandas.to_datetime(found.time_s, unit="s", utc=True), name="time"
    ).tz_convert(timezone(ahead))
    traces = found.traces.values()
    return pandas.DataFrame({heading(trace): trace.values for trace in traces}, index=index)


def trace_quantity(record: Record, name: str, case: str = "base") -> Any:
    """A trace with its unit attached, as a pint quantity, shape (time,).

    Examples
    --------
    ``trace_quantity(record, "rig.voltage").to("mV")``
    """
    from copperpath.quantities.registry import registry

    trace = find_trace(find_case(record, case), name)
    return registry().Quantity(trace.values, trace.unit or "dimensionless")


def record_html(record: Record) -> str:
    """A small table for notebooks: verdict, requirements, ledger. All text is escaped."""
    case = record.base
    rows = [("verdict", case.verdict.word), ("", case.verdict.sentence)]
    marks = {True: "met", False: "not met", None: "unknown"}
    rows += [
        (f"{each.worst.text}", f"{marks[each.met]}: {each.worst.words}")
        for each in record.requirements
    ]
    rows += [(f"case: {each.name}", each.verdict.word) for each in record.cases[1:]]
    ledger = case.ledger
    for words, joules in (
        ("sources gave", ledger.sources),
        ("loads took", ledger.loads),
        ("lost in cables", ledger.cables),
        ("lost in converters", ledger.converters),
        ("lost inside storage", ledger.storage_loss),
        ("change in store", ledger.stored_change),
    ):
        rows.append((words, f"{joules / 3600.0:.1f} Wh"))
    body = "".join(
        f"<tr><th style='text-align:left'>{escape(name)}</th><td>{escape(value)}</td></tr>"
        for name, value in rows
    )
    return f"<table><caption>{escape(record.station.title)}</caption>{body}</table>"
