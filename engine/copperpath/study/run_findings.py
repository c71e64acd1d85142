"""What a run has to say beyond its figures: chatter, too many volts, thin margins when keyed."""

from __future__ import annotations

import numpy as np

from copperpath.finding import Finding
from copperpath.plugin_api import Latch, Terminal
from copperpath.record.record import CornerFigure
from copperpath.record.run import Run, charge_state
from copperpath.record.times import day_and_time
from copperpath.solver.constants import DEAD_SHARE
from copperpath.solver.problem import SlotData
from copperpath.solver.solution import Outcome
from copperpath.study import given_up, joined_stores, record_low, weather_places
from copperpath_grammar.diagnostics import Level

CHATTER_PER_HOUR = 4
THIN_MARGIN_V = 0.3
"""Margin over a radio's least voltage below which a warning is given: common practice, no
source."""


CHARGE_MISSED = 0.005
"""Share of what flowed through a store by which its charge may miss it: ten times what steps of
five minutes miss."""


def find_in_run(
    run: Run, low: tuple[CornerFigure, ...], high: tuple[CornerFigure, ...]
) -> tuple[Finding, ...]:
    """Findings of a run, in the order of the checks."""
    return (
        *_unsolved(run),
        *given_up.findings(run),
        *joined_stores.findings(run),
        *_too_many_volts(run, high),
        *_terminals_over_limit(run),
        *_fuses_too_small(run),
        *_thin_margins(run, low),
        *_tanks_dry(run),
        *weather_places.findings(run),
        *_chatter(run),
        *_steps_too_long(run),
    )


def _unsolved(run: Run) -> list[Finding]:
    failed = (run.solution.outcome == Outcome.NOT_SOLVED).any(axis=1)
    if not failed.any():
        return []
    first = day_and_time(run.when(int(np.argmax(failed))))
    return [
        Finding(
            Level.FAIL,
            "not-solved",
            f"no operating point was found in {int(failed.sum())} of {len(failed)} steps, the "
            f"first on {first}; those steps have no figures",
            "station",
            None,
            "look at that time for a load that asks more than its line can carry, or for two "
            "supplies tied together",
        )
    ]


def _too_many_volts(run: Run, corner: tuple[CornerFigure, ...]) -> list[Finding]:
    """Loads that see more than they take, in the run or in the high corner."""
    found = []
    possible = run.problem.columns.weights > 0.0
    possible[:, run.problem.columns.worst :] = True
    at_most = {figure.device: figure.voltage_v for figure in corner}
    for device in run.problem.station.devices:
        if device.model.powered is None or device.kind != "load":
            continue
        window = device.model.powered[1].removesuffix("_low")
        high = float(device.values.get(f"{window}_high", np.nan))
        volts = run.terminal_volts(device, device.model.powered[0])
        seen = np.where(possible & np.isfinite(volts), volts, -np.inf)
        most, when = float(seen.max()), ""
        if not most > high and at_most.get(device.name, -np.inf) > high:
            most, when = at_most[device.name], " with stores full, nothing else on and most sun"
        if most > high:
            found.append(
                Finding(
                    Level.DANGER,
                    "too-many-volts",
                    f"`{device.name}` sees {most:.2f} V{when} but takes {high:.2f} V at the most",
                    device.name,
                    device.span,
                    "lower the charging voltage, use a battery of fewer cells, or feed it "
                    "through a converter",
                )
            )
    return found


def _terminals_over_limit(run: Run) -> list[Finding]:
    """Terminals that stand above the most they may ever see, a panel side even with nothing
    taken from it."""
    found = []
    coldest = record_low.highest_volts(run.problem)
    for data in run.problem.main:
        device = data.slot.device
        for terminal in device.model.terminals:
            if not isinstance(terminal, Terminal) or not terminal.limit:
                continue
            limit = float(device.values[terminal.limit])
            if terminal.seeking:
                zone, _ = run.problem.network.seekers[data.slot.seeks]
                volts = run.solution.tops[zone]
                rule, more = "panel-side-over-limit", "; colder mornings give more"
                if coldest is not None and coldest[zone] > volts.max(initial=0.0):
                    found += _over_in_the_cold(run, data, terminal, float(coldest[zone]), limit)
                    continue
            else:
                volts = np.nan_to_num(run.terminal_volts(device, terminal.name).max(axis=1))
                rule, more = "terminal-over-limit", ""
            if float(volts.max(initial=0.0)) > limit:
                at = day_and_time(run.when(int(np.argmax(volts))))
                found.append(
                    Finding(
                        Level.DANGER,
                        rule,
                        f"`{device.name}.{terminal.name}` sees {float(volts.max()):.1f} V on {at} "
                        f"and may see {limit:.4g} V at the most{more}",
                        device.name,
                        device.span,
                        "fewer panels in series, or a controller for a higher voltage"
                        if device.kind == "converter"
                        else "a lower charging voltage, or a battery of more cells",
                    )
                )
    return found


def _over_in_the_cold(
    run: Run, data: SlotData, terminal: Terminal, volts: float, limit: float
) -> list[Finding]:
    """A panel side above its limit in full sun at the record low."""
    device, low_k = data.slot.device, run.problem.station.site.record_low_k
    assert low_k is not None
    if volts <= limit:
        return []
    return [
        Finding(
            Level.DANGER,
            "panel-side-over-limit",
            f"`{device.name}.{terminal.name}` would see {volts:.1f} V in full sun at the record "
            f"low of {low_k - 273.15:.3g} °C and may see {limit:.4g} V at the most",
            device.name,
            device.span,
            "fewer panels in series, or a controller for a higher voltage",
        )
    ]


def _fuses_too_small(run: Run) -> list[Finding]:
    """A cable whose worst instant is above the rating of its own fuse."""
    found = []
    for flow in run.branches:
        cable = next((c for c in run.problem.station.cables if c.name == flow.branch.owner), None)
        if not flow.branch.is_cable or cable is None or not cable.fuses:
            continue
        rating = min(fuse.rating_a for fuse in cable.fuses)
        most = float(np.nanmax(np.abs(flow.amps[:, run.problem.columns.worst :])))
        if most > rating:
            found.append(
                Finding(
                    Level.FAIL,
                    "fuse-below-current",
                    f"`{cable.name}` carries {most:.1f} A at the worst instant through a fuse of "
                    f"{rating:g} A, which will open sooner or later",
                    cable.name,
                    cable.span,
                    "a larger fuse, if the wire may carry that",
                )
            )
    return found


def _tanks_dry(run: Run) -> list[Finding]:
    """Tanks that are empty at some time of the run; a law sees that one step after."""
    found = []
    for data in run.problem.main:
        device = data.slot.device
        for state in device.model.states:
            if not isinstance(state, Latch) or not state.dry:
                continue
            held = run.state(device.name, state.name)
            if held is None or not (held > 0.5).any():
                continue
            empty = held > 0.5
            when = day_and_time(run.when(max(int(np.argmax(empty)) - 1, 0)))
            remedies = [each.remedy for each in device.model.suspects if each.latch == state.name]
            found.append(
                Finding(
                    Level.WARN,
                    "ran-dry",
                    f"the tank of `{device.name}` is empty from {when}; it gives nothing then",
                    device.name,
                    device.span,
                    remedies[0] if remedies else "a larger tank",
                )
            )
    return found


def _thin_margins(run: Run, corner: tuple[CornerFigure, ...]) -> list[Finding]:
    found = []
    for figure in corner:
        if figure.needs_v is None or figure.voltage_v - figure.needs_v >= THIN_MARGIN_V:
            continue
        if figure.voltage_v < DEAD_SHARE * figure.needs_v:
            # Nothing reaches it; that is told by what stands in the way.
            continue
        short = figure.voltage_v < figure.needs_v
        found.append(
            Finding(
                Level.FAIL if short else Level.WARN,
                "short-when-keyed" if short else "thin-margin-when-keyed",
                f"`{figure.device}` falls to {figure.voltage_v:.2f} V with every load on and every "
                "radio keyed, the battery at its lowest planned charge and coldest, and needs "
                f"{figure.needs_v:.2f} V",
                figure.device,
                run.problem.station.device(figure.device).span,
                "a shorter or stouter cable, fewer joints, or a larger reserve in the battery",
            )
        )
    return found


def _chatter(run: Run) -> list[Finding]:
    found = []
    first = 0
    step_s = run.problem.site.step_s
    window = max(1, round(3600.0 / step_s))
    for data in run.problem.main:
        for place, state in enumerate(data.states):
            if not isinstance(state, Latch):
                continue
            turns = np.abs(np.diff(run.solution.states[:, first + place]))
            hourly = np.convolve(turns, np.ones(window))
            if hourly.max(initial=0.0) > CHATTER_PER_HOUR:
                name = data.slot.device.name
                found.append(
                    Finding(
                        Level.WARN,
                        "chatter",
                        f"`{state.name}` of `{name}` switches {int(hourly.max())} times within an "
                        f"hour, {int(turns.sum())} times in all; its rhythm here is the step of "
                        f"{step_s:g} s",
                        name,
                        data.slot.device.span,
                        "a wider gap between the two set-points, a delay, or less sag in the leads",
                    )
                )
        first += len(data.states)
    return found


def _steps_too_long(run: Run) -> list[Finding]:
    """Where a step takes a battery past full or empty, what goes beyond is lost to the charge."""
    found = []
    for device in run.problem.station.devices:
        name, slot, flow = charge_state(device), run.slot(device.name), run.flows.get(device.name)
        if name is None or slot is None or flow is None or device.model.contents is None:
            continue
        charge = run.state(device.name, name)
        held = device.model.contents(charge, slot[0].shape.p_type(*slot[0].parameters))
        power = run.weighted(flow.store)
        missed = abs(run.energy(power) - float(held[-1] - held[0]))
        if missed > CHARGE_MISSED * run.energy(np.abs(power)):
            found.append(
                Finding(
                    Level.WARN,
                    "steps-too-long",
                    f"the charge of `{device.name}` misses {missed / 3600.0:.3g} Wh of what "
                    f"flowed in and out: steps of {run.problem.site.step_s:g} s take it past "
                    "full or empty",
                    device.name,
                    device.span,
                    "run it with shorter steps, such as `--step 60s`",
                )
            )
    return found
