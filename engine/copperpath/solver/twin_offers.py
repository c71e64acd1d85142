"""The reference for offers and throttled panel voltages: all steps side by side in numpy."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from copperpath.network.circuit import Circuit
from copperpath.plugin_api import BoolArray, FloatArray
from copperpath.solver.constants import (
    ALL_OF_IT,
    OFFER_POINTS,
    ROUNDS,
    SCAN,
    SCAN_FROM,
    SLOPE_SHARE,
)
from copperpath.solver.problem import Problem, SlotData
from copperpath.solver.twin_newton import DenseCircuit, Inputs, assemble, dense, solve

Power = Callable[[FloatArray], FloatArray]


def zone_inputs(slots: tuple[SlotData, ...], steps: np.ndarray) -> Inputs:
    """Drives of a zone at the given steps, one point a step."""
    return Inputs([[] for _ in slots], [[row[steps] for row in data.drives] for data in slots])


def port_power(
    zone: DenseCircuit, inputs: Inputs, held_v: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Power out of the ports, all held at these voltages (point,), and the zone's nodes."""
    v, found, rest = _held(zone, inputs, held_v)
    # Summed over all nodes the cables' currents cancel, and with them their rounding, which
    # would blur where the hump is.
    return np.where(found, -held_v * rest.sum(axis=1), np.nan), v


def _held(
    zone: DenseCircuit, inputs: Inputs, held_v: FloatArray
) -> tuple[FloatArray, np.ndarray, FloatArray]:
    """Nodes with the ports held at these voltages (point,), whether found, what leaves them."""
    start = np.repeat(held_v[:, None], zone.constant.shape[0], axis=1)
    v, found = solve(zone, start, inputs, held=ports_of(zone))
    rest, _ = assemble(zone, v, inputs)
    return v, found, rest


def ports_of(zone: DenseCircuit) -> list[int]:
    """The ports among the zone's solved nodes."""
    assert zone.circuit is not None
    return [zone.circuit.merged.nodes.index(port) for port in zone.circuit.ports]


@dataclass(frozen=True, slots=True)
class ZoneOffers:
    """Tables (time, 2 * OFFER_POINTS), open-circuit volts (time,), ports' shares (time, port)."""

    tables: FloatArray
    tops: FloatArray
    shares: FloatArray


def _shares(zone: DenseCircuit, inputs: Inputs, best_v: FloatArray) -> FloatArray:
    """What part of the power each port draws at these voltages; equal parts where one draws
    nothing, as it hangs on another (point, port)."""
    ports = ports_of(zone)
    amps = -_held(zone, inputs, best_v)[2][:, ports]
    total = amps.sum(axis=1, keepdims=True)
    drawn = amps.min(axis=1, keepdims=True) > 1e-6 * total
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(drawn, amps / total, 1.0 / len(ports))


def offers(zone: DenseCircuit, steps: int) -> ZoneOffers:
    """What a zone can give at each step."""
    tables = np.zeros((steps, 2 * OFFER_POINTS))
    tables[:, :OFFER_POINTS] = 0.5 * np.arange(1, OFFER_POINTS + 1) / OFFER_POINTS
    everything = np.arange(steps)
    start = np.zeros((steps, zone.constant.shape[0]))
    v, found = solve(zone, start, zone_inputs(zone.slots, everything))
    ports = ports_of(zone)
    tops = np.where(found, v[:, ports].max(axis=1), 0.0)
    shares = np.full((steps, len(ports)), 1.0 / len(ports))
    bright = everything[tops > 0.5]
    tops[tops <= 0.5] = 0.0
    if len(bright):
        inputs = zone_inputs(zone.slots, bright)
        tables[bright] = _tables(zone, inputs, tops[bright])
        if len(ports) > 1:
            shares[bright] = _shares(zone, inputs, tables[bright, 0])
    return ZoneOffers(tables, tops, shares)


def tables_at(problem: Problem, zones: tuple[tuple[SlotData, ...], ...]) -> FloatArray:
    """Tables (seeker, 2 * OFFER_POINTS) of what each seeking terminal is offered, from the zones'
    slots over a single step."""
    network = problem.network
    tables = np.zeros((max(len(network.seekers), 1), 2 * OFFER_POINTS))
    known: dict[object, ZoneOffers] = {}
    made = []
    for circuit, slots in zip(network.zones, zones, strict=True):
        alike = _likeness(circuit, slots)
        if alike not in known:
            known[alike] = offers(dense(circuit, slots), 1)
        made.append(known[alike])
    for seeker, (zone, port) in enumerate(network.seekers):
        tables[seeker] = made[zone].tables[0]
        tables[seeker, OFFER_POINTS:] *= made[zone].shares[0, port]
    return tables


def _likeness(circuit: Circuit, slots: tuple[SlotData, ...]) -> object:
    """The same for zones that offer the same: alike devices at alike places on alike wires."""
    merged = circuit.merged
    wires = (merged.start.tobytes(), merged.end.tobytes(), merged.ohm.tobytes(), circuit.start_v)
    held = tuple(merged.nodes.index(port) for port in circuit.ports)
    devices = tuple(
        (data.slot.device.model, data.slot.kept, data.parameters.tobytes(), data.drives.tobytes())
        for data in slots
    )
    return wires, held, devices


def _tables(zone: DenseCircuit, inputs: Inputs, tops: FloatArray) -> FloatArray:
    def power(at: FloatArray) -> FloatArray:
        return port_power(zone, inputs, at)[0]

    gap = (1.0 - SCAN_FROM) * tops / (SCAN - 1)
    places = [SCAN_FROM * tops + k * gap for k in range(SCAN)]
    scanned = np.nan_to_num(np.stack([power(at) for at in places]), nan=-1.0)
    best = SCAN - 1 - np.argmax(scanned[::-1], axis=0)
    peak = np.stack(places)[best, np.arange(len(tops))]
    low, high = np.maximum(peak - gap, 0.05 * tops), np.minimum(peak + gap, tops)
    best_v = _flat_slope(power, low, peak, high, SLOPE_SHARE * tops)
    table = np.zeros((len(tops), 2 * OFFER_POINTS))
    for k in range(OFFER_POINTS):
        at = best_v + (tops - best_v) * k / (OFFER_POINTS - 1)
        table[:, k], table[:, OFFER_POINTS + k] = at, power(at)
    table[:, -1] = 0.0
    falling = table[:, OFFER_POINTS:][:, ::-1]
    table[:, OFFER_POINTS:] = np.maximum.accumulate(falling, axis=1)[:, ::-1]
    return table


def _flat_slope(
    power: Power, low: FloatArray, peak: FloatArray, high: FloatArray, width: FloatArray
) -> FloatArray:
    """Where the power's slope passes zero from above, by the Illinois rule, side by side."""

    def slope(at: FloatArray) -> FloatArray:
        return (power(at + width) - power(at - width)) / (2.0 * width)

    high, low = _beside(power, lambda at: slope(at) < 0.0, peak, high, low)
    rise, fall = slope(low), slope(high)
    answer = np.where(rise > 0.0, np.where(fall < 0.0, np.nan, high), low)
    most = power(0.5 * (low + high))
    side = np.zeros(len(low))
    for _ in range(ROUNDS):
        open_ = np.isnan(answer)
        if not open_.any():
            break
        with np.errstate(divide="ignore", invalid="ignore"):
            at = (low * fall - high * rise) / (fall - rise)
        at = np.where((low < at) & (at < high), at, 0.5 * (low + high))
        here = slope(at)
        up, down = open_ & (here > 0.0), open_ & ~(here > 0.0)
        fall = np.where(up & (side == 1), 0.5 * fall, fall)
        rise = np.where(down & (side == -1), 0.5 * rise, rise)
        low, rise = np.where(up, at, low), np.where(up, here, rise)
        high, fall = np.where(down, at, high), np.where(down, here, fall)
        side = np.where(up, 1, np.where(down, -1, side))
        done = open_ & ((high - low < 1e-12 * high) | (np.abs(here) * high < 1e-12 * most))
        answer = np.where(done, at, answer)
    return np.where(np.isnan(answer), 0.5 * (low + high), answer)


def _beside(
    power: Power,
    right_side: Callable[[FloatArray], BoolArray],
    peak: FloatArray,
    high: FloatArray,
    low: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Ends of the bracket drawn in towards the peak until no valley lies between: the high one
    where power falls, then the low one where it rises."""
    ends = []
    peak, most = peak.copy(), power(peak)
    for end, fits in ((high.copy(), right_side), (low.copy(), lambda at: ~right_side(at))):
        for _ in range(ROUNDS):
            off = ~fits(end)
            if not off.any():
                break
            middle = 0.5 * (peak + end)
            there = power(middle)
            better = off & (there > most)
            peak, most = np.where(better, middle, peak), np.where(better, there, most)
            end = np.where(off & ~better, middle, end)
        ends.append(end)
    return ends[0], ends[1]


def throttled(
    zone: DenseCircuit, table: FloatArray, tops: FloatArray, wanted: FloatArray
) -> FloatArray:
    """Zone voltages (time, column, node) at which the zone gives `wanted` (time, column)."""
    steps, columns = wanted.shape
    point = np.repeat(np.arange(steps), columns)
    inputs = zone_inputs(zone.slots, point)
    want = wanted.reshape(-1)
    best, most, top = table[point, 0], table[point, OFFER_POINTS], tops[point]

    def power(at: FloatArray) -> FloatArray:
        return port_power(zone, inputs, at)[0]

    low, high = best.copy(), np.maximum(top, best)
    over, under = most - want, power(high) - want
    answer = np.where(want >= ALL_OF_IT * most, best, np.where(want <= 0.0, top, np.nan))
    side = np.zeros(len(want))
    for _ in range(ROUNDS):
        open_ = np.isnan(answer)
        if not open_.any():
            break
        with np.errstate(divide="ignore", invalid="ignore"):
            at = (low * under - high * over) / (under - over)
        at = np.where((low < at) & (at < high), at, 0.5 * (low + high))
        miss = power(at) - want
        done = open_ & ((np.abs(miss) <= 1e-12 * most) | (high - low < 1e-14 * high))
        answer = np.where(done, at, answer)
        up, down = open_ & (miss > 0.0), open_ & ~(miss > 0.0)
        under = np.where(up & (side == 1), 0.5 * under, under)
        over = np.where(down & (side == -1), 0.5 * over, over)
        low, over = np.where(up, at, low), np.where(up, miss, over)
        high, under = np.where(down, at, high), np.where(down, miss, under)
        side = np.where(up, 1, np.where(down, -1, side))
        answer = np.where(np.isnan(answer) & (_ == ROUNDS - 1), at, answer)
    nodes = zone.constant.shape[0]
    volts = port_power(zone, inputs, answer)[1]
    idle = want <= 0.0
    if idle.any():
        start = np.repeat(top[idle][:, None], nodes, axis=1)
        resting = zone_inputs(zone.slots, point[idle])
        # Twice, for the first search may end on a corner's wrong side.
        volts[idle] = solve(zone, solve(zone, start, resting)[0], resting)[0]
    return volts.reshape(steps, columns, nodes)
