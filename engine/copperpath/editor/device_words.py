"""A device, part or assembly of the file for reading: what it is, and its values as settled."""

from __future__ import annotations

import math

from copperpath.build.parameters import entry_names
from copperpath.editor.names_in_reach import in_words
from copperpath.editor.outline import DEVICES, Declared
from copperpath.editor.reading import Reading
from copperpath.plugin_api import AnyParameter, Choice, Model, Parameter, Window
from copperpath.quantities import show
from copperpath.station import Device
from copperpath_grammar.lexing import span_of


def device_in_words(reading: Reading, name: str, owner: str) -> str:
    """What a device or kit is, with its values as they are settled, or as they are written while
    the file has mistakes."""
    declared = reading.outline.device(name, owner)
    if declared is None:
        return ""
    if declared.word == "kit":
        return f"`{declared.header}`\n\n{assembly_in_words(reading, declared.of)}"
    told = in_words(reading, declared)
    model = reading.model_behind(declared.of)
    device = _settled(reading, name, owner)
    if model is None or device is None:
        return "\n\n".join([told, _written_entries(declared)]).strip()
    lines = [_value(reading, declared, device, each) for each in model.parameters]
    lines += [f"- mass {show(device.mass_kg, 'mass')}"] if device.mass_kg is not None else []
    lines += [f"- priority {device.priority}"] if device.priority is not None else []
    return "\n\n".join([told, "\n".join(line for line in lines if line)])


def part_in_words(reading: Reading, name: str) -> str:
    """What a part is, with its entries as written."""
    part = reading.outline.part(name)
    if part is None:
        return ""
    model = reading.model_behind(name)
    summary = f"\n\n{_summary(model)}" if model is not None else ""
    return f"`{part.header}`{summary}\n\n{_written_entries(part)}".strip()


def assembly_in_words(reading: Reading, name: str) -> str:
    """What an assembly is: its values, its devices, what it exposes."""
    assembly = reading.outline.assembly(name)
    if assembly is None:
        return ""
    inside = reading.outline.inside(name)
    devices = [f"- `{each.header}`" for each in inside if each.word in DEVICES]
    exposed = [f"`{each.name}`" for each in inside if each.word == "expose"]
    parts = [f"`{assembly.header}`", "\n".join(devices)]
    if exposed:
        parts.append(f"Exposes {', '.join(exposed)}.")
    return "\n\n".join(part for part in parts if part)


def _summary(model: type[Model]) -> str:
    return f"A {model.kind}: {model.summary}."


def _settled(reading: Reading, name: str, owner: str) -> Device | None:
    """The device of that name, or the first of several, where the file has no mistakes; of one in
    an assembly that in the first kit."""
    station = reading.loaded.station
    if station is None:
        return None
    kits = [each.name for each in reading.outline.inside("") if each.of == owner]
    before = [f"{kit}{index}." for kit in kits[:1] for index in ("", "[1]")] if owner else [""]
    wanted = {f"{prefix}{name}{index}" for prefix in before for index in ("", "[1]")}
    return next((device for device in station.devices if device.name in wanted), None)


def _value(reading: Reading, declared: Declared, device: Device, parameter: AnyParameter) -> str:
    """A line of the list of values; "" for one that is neither given nor has a default."""
    name, values = parameter.name, device.values
    shown = ""
    match parameter:
        case Parameter():
            value = values.get(name)
            if isinstance(value, float) and not math.isnan(value):
                shown = show(value, parameter.dimension, parameter.shown_unit)
        case Window():
            both = (values.get(f"{name}_low"), values.get(f"{name}_high"))
            ends = [end for end in both if isinstance(end, float) and not math.isnan(end)]
            if len(ends) == 2:
                unit = parameter.shown_unit
                shown = " .. ".join(show(end, parameter.dimension, unit) for end in ends)
        case Choice():
            shown = values.get(name) or ""
        case _:
            return _as_written(reading, declared, parameter)
    if not shown:
        return ""
    return f"- {name} {shown}" + ("" if name in device.given else " (not given)")


def _as_written(reading: Reading, declared: Declared, parameter: AnyParameter) -> str:
    """An entry of the device or of a part it is built on, as the file has it."""
    seen: set[str] = set()
    each: Declared | None = declared
    while each is not None and each.name not in seen:
        seen.add(each.name)
        for name in entry_names(parameter):
            if name in each.entries:
                return f"- {name} {_text(each, name)}"
        each = reading.outline.part(each.of)
    return ""


def _written_entries(declared: Declared) -> str:
    return "\n".join(f"- {name} {_text(declared, name)}" for name in declared.entries)


def _text(declared: Declared, entry: str) -> str:
    """The values of an entry as written, with single blanks."""
    tokens = declared.entries[entry]
    if not tokens:
        return ""
    return " ".join(span_of(declared.source, tokens[0], tokens[-1]).text.split())
