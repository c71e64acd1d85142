"""What the `station` block says of days drawn at random: `random_days` and `cover_spell`."""

from __future__ import annotations

from collections.abc import Mapping

from copperpath.build.build_errors import WrongForm
from copperpath.build.scope import Scope
from copperpath.build.single_values import only_value, read_bounded
from copperpath.over_year import USUAL_SPELL_S
from copperpath.station import Assumption
from copperpath_grammar.value_nodes import Entry

DAY_S = 86_400.0
SPELL_BASIS = "common practice, no source; rime often stays for over a week in mountains"


def read_spell(
    by_name: Mapping[str, Entry], scope: Scope, assumptions: list[Assumption]
) -> float | None:
    """How long rime and snow stay in the mean [s]; None after a report. What is usual joins
    `assumptions` where days are drawn."""
    entry = by_name.get("cover_spell")
    if entry is None:
        if "random_days" in by_name and ("rime" in by_name or "snow" in by_name):
            usual = f"{USUAL_SPELL_S / DAY_S:g} days"
            assumptions.append(Assumption("station", "cover_spell", usual, SPELL_BASIS))
        return USUAL_SPELL_S
    value = only_value(entry)
    if value is None:
        takes = "how long rime or snow stays on the panels in the mean"
        scope.report(WrongForm(entry.span, "cover_spell", takes, "cover_spell 5 days"))
        return None
    return read_bounded(
        value,
        "time",
        "cover_spell",
        scope,
        low=DAY_S,
        high=100.0 * DAY_S,
        reason="it comes and goes by whole days; a week is long in most places",
        example="5 days",
        unit="days",
    )
