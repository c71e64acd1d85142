"""The names that may be written at a place: devices, terminals, quantities, values, models."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lark import Token

from copperpath.build.requirements import QUANTITIES
from copperpath.editor.outline import DEVICES, Declared
from copperpath.editor.reading import Reading
from copperpath.editor.suggestion import Suggestion
from copperpath.editor.unit_choice import Measured
from copperpath.plugin_api import Accumulator, Model, Terminal, Ways
from copperpath.quantities import MEANINGS, Quantity, fits, show
from copperpath.report.declared import example_text, sentence, terminal_words

QUANTITY_HELP = {
    "voltage": "the worst instant at its terminals",
    "mean_voltage": "the mean of each step at its terminals",
    "current": "what flows into it",
    "power": "what it takes",
    "charge": "how full it is",
    "energy": "what it took or gave since the start",
}
MOST_WAYS = 64


def devices(reading: Reading, owner: str) -> list[Suggestion]:
    """Devices and kits that can be named inside `owner` ("" for the file itself)."""
    found = [each for each in _within(reading, owner) if each.word in DEVICES]
    return [Suggestion(each.name, "device", _what(each), in_words(reading, each)) for each in found]


def in_words(reading: Reading, device: Declared) -> str:
    """A device or kit in a sentence or two."""
    model = reading.model_behind(device.of)
    told = f"`{device.word} {device.name} : {device.of}`"
    return told if model is None else f"{told}\n\n{sentence(model.summary)}"


def behind_dot(reading: Reading, path: Sequence[str], owner: str, wanted: str) -> list[Suggestion]:
    """What may follow a dot: terminals at the end of a cable, quantities in a requirement
    (`wanted` is "terminal" or "quantity"); the inside of a kit."""
    device = reading.outline.device(path[0], owner) if path else None
    for name in path[1:]:
        if device is None or device.word != "kit":
            return []
        device = reading.outline.device(name, device.of)
    if device is None:
        return []
    if device.word == "kit":
        inside = reading.outline.inside(device.of)
        if wanted == "terminal":
            exposed = [each.name for each in inside if each.word == "expose"]
            return [Suggestion(each, "terminal", f"of `{device.of}`") for each in exposed]
        return [
            Suggestion(each.name, "device", _what(each), in_words(reading, each))
            for each in inside
            if each.word in DEVICES
        ]
    model = reading.model_behind(device.of)
    if model is None:
        return []
    if wanted == "terminal":
        return _terminals(reading, device, model)
    return _quantities(model)


def named_values(reading: Reading, owner: str, measured: Measured) -> list[Suggestion]:
    """Named values that measure the right thing, or of which that is not known."""
    found = []
    for each in (*reading.outline.inside(""), *(reading.outline.inside(owner) if owner else ())):
        if each.word == "let":
            value = reading.values.get(each.name) if each.owner == "" else None
            if value is None or _fits(value, measured):
                found.append(Suggestion(each.name, "value", each.header.partition("=")[2].strip()))
    around = reading.outline.assembly(owner)
    if around is not None:
        detail = f"given by each `{owner}`"
        found += [Suggestion(each, "value", detail) for each in around.parameters]
    return found


def models(reading: Reading, kind: str) -> list[Suggestion]:
    """Models and parts of a kind ("" for all)."""
    parts = [
        Suggestion(each.name, "part", f"part of `{each.of}`", f"`{each.header}`")
        for each in reading.outline.inside("")
        if each.word == "part" and _is_kind(reading.model_behind(each.of), kind)
    ]
    return parts + [
        Suggestion(name, "model", model.kind, model_help(model))
        for name, model in reading.models.items()
        if _is_kind(model, kind)
    ]


def model_help(model: type[Model]) -> str:
    """A model for reading: what it is, the least it needs, its terminals."""
    terminals = "\n".join(f"- `{name}`: {meaning}" for name, meaning in terminal_words(model))
    return "\n\n".join(
        [
            f"**{model.name}**, a {model.kind}: {sentence(model.summary)}",
            f"```station\n{example_text(model)}\n```",
            f"Terminals:\n\n{terminals}",
        ]
    )


def way_count(reading: Reading, device: Declared, ways: Ways) -> int | None:
    """How many numbered terminals a device has, if its own line or its part's says it."""
    seen: set[str] = set()
    each: Declared | None = device
    while each is not None and each.name not in seen:
        seen.add(each.name)
        tokens: Sequence[Token] = each.entries.get(ways.count, ())
        if len(tokens) == 1 and tokens[0].isdigit():
            return min(int(tokens[0]), MOST_WAYS)
        each = reading.outline.part(each.of)
    return None


def _within(reading: Reading, owner: str) -> Iterator[Declared]:
    """All that is declared in the file, or only in one assembly, or in a case beside the file."""
    if reading.outline.assembly(owner) is None:
        yield from reading.outline.inside("")
    if owner:
        yield from reading.outline.inside(owner)


def _terminals(reading: Reading, device: Declared, model: type[Model]) -> list[Suggestion]:
    taken = _taken(reading, device.name)
    found = []
    for terminal in model.terminals:
        if isinstance(terminal, Terminal):
            found.append(Suggestion(terminal.name, "terminal", terminal.help))
            continue
        for way in range(1, (way_count(reading, device, terminal) or 0) + 1):
            used = ", has a cable" if str(way) in taken else ""
            found.append(Suggestion(str(way), "terminal", f"{terminal.help}{used}"))
    return sorted(found, key=lambda each: each.label in taken)


def _taken(reading: Reading, device: str) -> set[str]:
    """The terminals of a device that are written somewhere."""
    tokens = reading.tokens
    return {
        str(tokens[index + 2])
        for index, token in enumerate(tokens[:-2])
        if token == device and tokens[index + 1].type == "DOT"
    }


def _quantities(model: type[Model]) -> list[Suggestion]:
    stores = any(isinstance(s, Accumulator) and s.carries_charge for s in model.states)
    return [
        Suggestion(name, "word", MEANINGS[dimension].noun, QUANTITY_HELP.get(name, ""))
        for name, dimension in QUANTITIES.items()
        if name != "charge" or stores
    ]


def _what(device: Declared) -> str:
    many = " (several)" if device.many else ""
    return f"{device.word} : {device.of}{many}" if device.of else device.word


def _is_kind(model: type[Model] | None, kind: str) -> bool:
    return not kind or (model is not None and model.kind == kind)


def _fits(value: Quantity, measured: Measured) -> bool:
    match measured:
        case "any":
            return True
        case "wire":
            return value.noun in ("an area", "a wire gauge")
        case "latitude" | "longitude":
            return False
        case dimension:
            return fits(value, dimension)


def value_in_words(value: Quantity) -> str:
    """A named value for reading: "7 m, a length"."""
    for dimension, meaning in MEANINGS.items():
        if fits(value, dimension):
            return f"{show(value.value, dimension)}, {meaning.noun}"
    return f"{value.value:g}, {value.noun}"
