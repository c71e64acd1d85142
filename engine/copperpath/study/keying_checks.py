"""What the shares of keying say before anything is solved."""

from __future__ import annotations

from copperpath.finding import Finding
from copperpath.solver.problem import Problem, keyed_too_long
from copperpath_grammar.diagnostics import Level


def check_keying(problem: Problem) -> tuple[Finding, ...]:
    """Radios that are never keyed at once and yet are keyed for more than all of the time."""
    found = []
    for group, share in keyed_too_long(problem):
        names = ", ".join(f"`{name}`" for name in group)
        device = problem.station.device(group[0])
        found.append(
            Finding(
                Level.FAIL,
                "keyed-longer-than-always",
                f"{names} are never keyed at once, but their shares add up to {share:.0%} of the "
                "time",
                group[0],
                device.span,
                "smaller shares of `transmitting`, or let them be keyed at once",
            )
        )
    return tuple(found)
