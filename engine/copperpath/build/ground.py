"""What stands and lies around the panels: `ground_reflects`, `horizon`, `rime` and `snow`."""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.build.build_errors import WrongForm
from copperpath.build.months import OverYear, read_over_year
from copperpath.build.parameters import read_facing
from copperpath.build.scope import Run, Scope
from copperpath.build.single_values import only_value, read_bounded
from copperpath.build.site_errors import DirectionTwice
from copperpath.station import Assumption
from copperpath_grammar.value_nodes import Entry

USUAL_REFLECTION = 0.20
REFLECTION_BASIS = "grass 0.20, soil 0.17, snow 0.65: table of typical albedo shipped with pvlib"
HORIZON_FORM = (
    "one height all around, or heights each `at` its direction, with commas between: straight "
    "lines join them around the compass"
)
HORIZON_EXAMPLE = "horizon 12 deg at east, 4 deg at south, 9 deg at 250 deg"
COVERS = {
    "rime": "the share of the light that rime on the panels takes",
    "snow": "the share of the light that snow on the panels takes",
}


def read_reflection(
    entries: Sequence[Entry], run: Run | None, scope: Scope, assumptions: list[Assumption]
) -> OverYear[float] | None:
    """The share of light that the ground throws back; the usual one joins `assumptions`."""
    takes = "the share of light that the ground throws back"
    reason = "the ground throws back between none and all of the light; fresh snow about 75 %"
    found = read_over_year(
        entries, lambda entry: _share(entry, takes, "20 %", reason, scope), run, scope
    )
    if found is None or found.otherwise is not None:
        return found
    what = "ground_reflects in other months" if found.by_month else "ground_reflects"
    assumptions.append(Assumption("station", what, "20 %", REFLECTION_BASIS))
    return OverYear(USUAL_REFLECTION, found.by_month)


def read_cover(entries: Sequence[Entry], run: Run | None, scope: Scope) -> OverYear[float] | None:
    """The share of light that `rime` or `snow` takes; none where nothing is said."""
    if not entries:
        return OverYear(0.0)
    takes = f"{COVERS[entries[0].name.text]}, and its months"
    reason = "it is a mean share of the light, between none and all of it"
    found = read_over_year(
        entries, lambda entry: _share(entry, takes, "30 %", reason, scope), run, scope
    )
    return None if found is None else OverYear(found.otherwise or 0.0, found.by_month)


def _share(entry: Entry, takes: str, example: str, reason: str, scope: Scope) -> float | None:
    name, value = entry.name.text, only_value(entry)
    if value is None:
        scope.report(WrongForm(entry.span, name, takes, f"{name} {example}"))
        return None
    return read_bounded(
        value,
        "share",
        name,
        scope,
        low=0.0,
        high=1.0,
        reason=reason,
        example=example,
        unit="%",
    )


def read_horizon(entry: Entry | None, scope: Scope) -> tuple[tuple[float, float], ...] | None:
    """Directions and heights [degrees], in the order of the compass; None after a report."""
    if entry is None:
        return ()
    parts = entry.parts
    joiners = ["", *[part.joiner for part in parts[1:]]]
    pairs = len(parts) // 2
    alone = len(parts) == 1
    if not alone and (len(parts) % 2 or joiners != ["", "at", *[",", "at"] * (pairs - 1)]):
        scope.report(WrongForm(entry.span, "horizon", HORIZON_FORM, HORIZON_EXAMPLE))
        return None
    found: dict[float, float] = {}
    before = len(scope.problems)
    for place in range(0, len(parts), 2):
        height = read_bounded(
            parts[place].value,
            "angle",
            "horizon",
            scope,
            low=0.0,
            high=80.0,
            reason="it is how high hills or trees stand above level, seen from the panels",
            example="12 deg",
        )
        facing = 0.0 if alone else read_facing(parts[place + 1].value, "horizon", scope)
        if height is None or facing is None:
            continue
        if facing % 360.0 in found:
            written = parts[place + 1].value.span
            scope.report(DirectionTwice(written, written.text))
        found[facing % 360.0] = height
    return None if len(scope.problems) > before else tuple(sorted(found.items()))
