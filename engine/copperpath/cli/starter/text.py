"""From answers to the text of a station file, with a remark beside all that wants a second look."""

from __future__ import annotations

from dataclasses import dataclass, field

from copperpath.cli.starter.choices import Choice, choice, controller_for


@dataclass(frozen=True, slots=True)
class Answers:
    """What was asked. `place`, `starts`, `lasts` and `air` are written as in a station file;
    `radios` and `loads` name parts, one name for each device; `panel` may be ""."""

    title: str = "My station"
    place: str = "47.40 N, 9.35 E, 900 m"
    starts: str = "2026-06-19 08:00 +02:00"
    lasts: str = "48 h"
    air: str = "8 degC .. 19 degC"
    radios: tuple[str, ...] = ("hf_10w",)
    loads: tuple[str, ...] = ()
    battery: str = "lfp_12ah"
    panel: str = ""
    generator: bool = False


@dataclass(slots=True)
class Wiring:
    """Devices and cables as they come, and the ways of the strip that are taken."""

    devices: list[str] = field(default_factory=list)
    cables: list[tuple[str, str, str]] = field(default_factory=list)
    ways: int = 0

    def way(self, count: int = 1) -> str:
        """The next way of the strip, or the next few."""
        first = self.ways + 1
        self.ways += count
        return f"strip.{first}" if count == 1 else f"strip.[{first}..{self.ways}]"


def starter_text(answers: Answers) -> str:
    """The whole file.

    Raises
    ------
    KeyError
        If an answer names a part that is not among the choices.
    """
    battery = choice("battery", answers.battery)
    wiring = Wiring()
    _battery(wiring, battery)
    if answers.panel:
        _panel(wiring, choice("panel", answers.panel), battery)
    if answers.generator:
        _generator(wiring, battery)
    first = _loads(wiring, "radio", answers.radios, 1)
    _loads(wiring, "load", answers.loads, first)
    lines = [*_head(answers), ""]
    libraries = {"batteries", "blocks", *_libraries(answers)}
    lines += [f'include library "{name}"' for name in sorted(libraries)]
    lines += [
        "",
        "# ---- what there is. `copperpath models` lists more parts, with NAME it shows one",
        "",
    ]
    lines += [f"block strip : strip_{_strip_ways(wiring.ways)} {{ }}", ""]
    lines += wiring.devices
    lines += [
        "# ---- how it is wired. Measure each cable one way and write `length 2 m; ` in front;",
        "# until then it counts as without loss. A fuse sits at the end that would feed a fault.",
        "",
    ]
    wide = max(len(start) for start, _, _ in wiring.cables)
    far = max(len(end) for _, end, _ in wiring.cables)
    lines += [f"cable {start:<{wide}} -> {end:<{far}} {body}" for start, end, body in wiring.cables]
    lines += ["", "# ---- what must be true", ""]
    lines += _requirements(answers)
    return "\n".join(lines) + "\n"


def device_names(parts: tuple[str, ...]) -> list[tuple[str, str, int]]:
    """Name, part and how many, in the order of the parts: `fm_25w` twice is `fm`, 2 of them; two
    parts of one kind are `fm25` and `fm50`."""
    counts = {part: parts.count(part) for part in dict.fromkeys(parts)}
    kinds = [part.split("_")[0] for part in counts]
    found = []
    for part, count in counts.items():
        kind, size = part.split("_")[0], part.split("_")[-1]
        digits = "".join(letter for letter in size if letter.isdigit())
        found.append((kind if kinds.count(kind) == 1 else f"{kind}{digits}", part, count))
    return found


def _head(answers: Answers) -> list[str]:
    title = answers.title.replace('"', "'")
    return [
        "# A first draft, to be changed: every figure below is a typical one of its kind. Put in",
        "# what stands on the labels, and the lengths as you measure them. Then:",
        "#     copperpath check FILE     reads it and looks at the wiring",
        "#     copperpath run FILE       says whether it stays powered",
        "",
        f'station "{title}" {{',
        f"    place   {answers.place}",
        f"    {f'starts  {answers.starts}':<39} # with the clock's offset from UTC",
        f"    lasts   {answers.lasts}",
        "    sky     clear                           # or `30 % of clear`, also by date",
        f"    {f'air     {answers.air}':<39} # coolest before dawn .. warmest of the day",
        "}",
    ]


def _libraries(answers: Answers) -> set[str]:
    used = {"radios"} if answers.radios else set()
    used |= {"loads"} if answers.loads else set()
    used |= {"panels", "converters"} if answers.panel else set()
    used |= {"sources", "chargers"} if answers.generator else set()
    if any(choice("load", part).feed == "usb" for part in answers.loads):
        used |= {"converters"}
    return used


def _battery(wiring: Wiring, battery: Choice) -> None:
    wiring.devices += [
        f"storage pack : {battery.part} {{",
        "    charge 100 %; reserve 10 %              # full at the start; the last tenth stays",
        "    temperature air + 5 K                   # how warm it is kept",
        "}",
        "",
    ]
    body = f"{{ wire {battery.wire}; fuse {battery.fuse} at pack within 100 mm }}"
    wiring.cables.append(("pack", "strip.in", body))


def _panel(wiring: Wiring, panel: Choice, battery: Choice) -> None:
    controller, wire, fuse = controller_for(panel.part, battery.part)
    wiring.devices += [
        f"source panel : {panel.part} {{ mount 45 deg, south }}   # tilt from level, direction",
        f"converter regulator : {controller} {{ }}",
        "",
    ]
    wiring.cables += [
        ("panel", "regulator.panel", f"{{ wire {panel.wire} }}"),
        ("regulator.battery", wiring.way(), f"{{ wire {wire}; fuse {fuse} at strip }}"),
    ]


def _generator(wiring: Wiring, battery: Choice) -> None:
    lead = battery.part.startswith("agm")
    charger = f"charger_10a{'_agm' if lead else ''}"
    wiring.devices += [
        "# Exhaust kills without a warning: outdoors, well away from every opening. Its mains",
        "# side is work for licensed electricians.",
        "source engine : generator_1kw { on 17:00 to 21:00 }",
        f"converter charger : {charger} {{ }}",
        "",
    ]
    wiring.cables += [
        ("engine.output", "charger.mains", "{ wire 1.5 mm2 }"),
        ("charger.battery", wiring.way(), "{ wire 4 mm2; fuse 15 A at strip }"),
        ("engine.sense", wiring.way(), "{ wire 0.75 mm2; fuse 1 A at strip }"),
    ]


def _loads(wiring: Wiring, group: str, parts: tuple[str, ...], priority: int) -> int:
    """The loads of a group; returns the next priority."""
    usb_made = False
    for name, part, count in device_names(parts):
        what = choice(group, part)
        many = f"[{count}]" if count > 1 else ""
        each = f"[1..{count}]" if count > 1 else ""
        wiring.devices.append(f"load {name}{many} : {part} {{   # {what.words}")
        wiring.devices += [f"    {line:<39} # {remark}" for line, remark in what.lines]
        wiring.devices += [f"    {f'priority {priority}':<39} # 1 is given up last", "}", ""]
        priority += 1
        if what.feed == "usb":
            if not usb_made:
                usb_made = True
                wiring.devices += ["converter fiver : usb_5v_3a { }", ""]
                body = "{ wire 1 mm2; fuse 3 A at strip }"
                wiring.cables.append((wiring.way(), "fiver.in", body))
            wiring.cables.append(("fiver.out", f"{name}{each}", f"{{ wire {what.wire} }}"))
            continue
        body = f"{{ wire {what.wire}; fuse {what.fuse} at strip }}"
        wiring.cables.append((wiring.way(count), f"{name}{each}", body))
    return priority


def _strip_ways(wanted: int) -> int:
    return next((ways for ways in (4, 6, 8, 12) if ways >= wanted), 12)


def _requirements(answers: Answers) -> list[str]:
    lines = []
    for name, _, count in device_names(answers.radios):
        each = f"{name}[1..{count}]" if count > 1 else name
        lines.append(f"require {each} powered throughout")
    lines.append("require pack.charge >= 20 %")
    return lines
