"""One circuit, the main part or what lies behind a controller, as lines of a netlist.

Every node's voltage is between its two conductors, so node 0 stands for all return conductors
and a resistor for both conductors of a cable. Names are numbered: what people call a thing stands
in the remark above it.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from copperpath.netlist.expression import CannotBeWritten, Part
from copperpath.netlist.trace import about, traced
from copperpath.netlist.write_formula import FormulaWriter
from copperpath.network.circuit import Circuit
from copperpath.plugin_api import FloatArray
from copperpath.solver.constants import LEAK_S
from copperpath.solver.problem import SlotData

WIDTH = 98


@dataclass(frozen=True, slots=True)
class Names:
    """What the netlist calls the things of one circuit.

    Attributes
    ----------
    nodes : tuple of str
        By the circuit's node.
    resistors : tuple of str
        By the circuit's branch.
    sources : tuple of tuple of str
        By slot, then by terminal and inner node in the law's order: the source whose current is
        the one into the device. Empty for a slot that was taken off.
    ports : tuple of str
        The voltage sources that hold a zone's ports; none in the dark.
    """

    nodes: tuple[str, ...]
    resistors: tuple[str, ...]
    sources: tuple[tuple[str, ...], ...]
    ports: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SlotInput:
    """What one slot is given at an instant; `open` takes the device off the circuit."""

    states: FloatArray
    drives: FloatArray
    open: bool = False


def make_names(circuit: Circuit, prefix: str, opened: Sequence[bool]) -> Names:
    """Numbered names with this prefix ("" for the main part, "z1" for the first zone)."""
    sources = tuple(
        ()
        if opened[place]
        else tuple(f"b{prefix}d{place + 1}t{k + 1}" for k in range(len(slot.nodes)))
        for place, slot in enumerate(circuit.slots)
    )
    return Names(
        tuple(f"{prefix}n{k + 1}" for k in range(len(circuit.nodes))),
        tuple(f"r{prefix}c{k + 1}" for k in range(len(circuit.branches))),
        sources,
        tuple(f"v{prefix}port{k + 1}" for k in range(len(circuit.ports))),
    )


def remark(text: str) -> list[str]:
    """Lines that simulators pass over. The blank keeps them from being taken for commands, and
    signs outside plain ASCII or that end a line become question marks."""
    plain = "".join(sign if " " <= sign <= "~" else "?" for sign in text)
    return [f"* {line}" for line in textwrap.wrap(plain, WIDTH - 2) or [""]]


def node_lines(circuit: Circuit, names: Names, volts: FloatArray) -> list[str]:
    """Which node is which, the leak of each, and where the search should begin."""
    lines = remark("Nodes, and the leaks there are in copperpath too; a joint has none")
    leaks = set(circuit.merged.nodes)
    for place, (name, node) in enumerate(zip(names.nodes, circuit.nodes, strict=True)):
        lines += remark(f"{name} = {node}, found at {volts[place]:.6g} V")
        if place in leaks:
            lines.append(f"rleak{name} {name} 0 {1.0 / LEAK_S:.12g}")
        lines.append(f".nodeset v({name})={float(volts[place])!r}")
    return lines


def branch_lines(circuit: Circuit, names: Names) -> list[str]:
    """Cables and the ways of blocks, both conductors in one resistance [ohm]."""
    lines = remark("Cables and ways of blocks, both conductors together, in ohm")
    for name, branch in zip(names.resistors, circuit.branches, strict=True):
        start, end = names.nodes[branch.start], names.nodes[branch.end]
        kind = "cable" if branch.is_cable else "block"
        lines += remark(f"{kind} {branch.owner}")
        lines.append(f"{name} {start} {end} {float(branch.ohm)!r}")
    return lines


def slot_lines(
    circuit: Circuit, slots: Sequence[SlotData], names: Names, given: Sequence[SlotInput]
) -> list[str]:
    """Devices as behavioural sources: each current, in amperes, flows into the device."""
    lines = remark("Devices: for each terminal the current that flows into the device, in A")
    for place, (data, inputs) in enumerate(zip(slots, given, strict=True)):
        device = data.slot.device
        lines += remark(
            f"{device.kind} {device.name} ({device.model.name})" + _inputs(data, inputs)
        )
        if inputs.open:
            lines += remark("taken off for this step, as it cannot be powered")
            continue
        nodes = [names.nodes[node] for node in data.slot.nodes]
        formulas = traced(data, nodes, inputs.states, inputs.drives)
        lines += _source_lines(data, names.sources[place], nodes, formulas)
    return lines


def _source_lines(
    data: SlotData, sources: tuple[str, ...], nodes: list[str], formulas: list[Part]
) -> list[str]:
    writer = FormulaWriter(sources[0][1:])
    try:
        texts = [writer.text(each) for each in formulas]
    except CannotBeWritten as problem:
        raise about(data, problem) from problem
    lines: list[str] = []
    for name, text in writer.lines:
        lines += continued(f"b{name} {name} 0 v = {text}")
    for source, node, text in zip(sources, nodes, texts, strict=True):
        lines += continued(f"{source} {node} 0 i = {text}")
    return lines


def _inputs(data: SlotData, inputs: SlotInput) -> str:
    shape = data.shape
    pairs = [*zip(shape.x_fields, inputs.states, strict=True)]
    pairs += zip(shape.d_fields, inputs.drives, strict=True)
    words = ", ".join(f"{name.rstrip('_')} {value:.6g}" for name, value in pairs)
    return f": {words}" if words else ""


def continued(text: str) -> list[str]:
    """A long line as the convention continues it, with `+`."""
    lines = textwrap.wrap(text, WIDTH, break_long_words=False, break_on_hyphens=False)
    return [lines[0], *(f"+ {line}" for line in lines[1:])]
