"""Units of the United States."""

from __future__ import annotations

from collections.abc import Iterator

from outside.checks.record import Record, numbered, origin

from copperpath.quantities import read_measure


def records() -> Iterator[Record]:
    """Each factor to SI."""
    for rows, row in numbered("us_units.csv"):
        expected, exact = float(row["si_factor"]), row["exact"] == "yes"
        yield Record(
            claim=f"1 {row['unit']}",
            expected=expected,
            ours=read_measure(1.0, row["unit"]).value,
            unit=row["si_unit"],
            tolerance=(1e-12 if exact else 5e-7) * expected,
            why="exact by definition" if exact else "printed with seven digits",
            rows=rows,
            **origin(row),
        )
