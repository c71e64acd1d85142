"""Short-circuit current above what a fuse can break."""

from __future__ import annotations

from collections.abc import Iterator

from copperpath.plugin_api import CableView, FuseView, Inquiry, Reading, Remedy, Rule, SetFact


class FuseCannotBreak(Rule):
    """Open voltage over the resistance of stores and wires up to the fuse."""

    interface = 1
    name = "fuse-cannot-break"
    summary = "each fuse can break what a short behind it would make flow"
    why = "a fuse that cannot break the current holds an arc, and may burst"
    limit_from = "published"
    source = "what the file or the kind says: ISO 8820-3 for blade fuses (1 kA at 32 V)"
    levels = ("danger", "warn")

    @staticmethod
    def judge(inquiry: Inquiry) -> Iterator[Reading]:
        for cable in inquiry.cables:
            for fuse in cable.fuses:
                yield _of(inquiry, cable, fuse)

    @staticmethod
    def mend(inquiry: Inquiry, reading: Reading) -> Remedy | None:
        breaks = inquiry.fuse_breaks("class_t")
        if breaks is None:
            return None
        name = reading.subject
        edits = (
            SetFact(name, "fuse_kind", "class_t"),
            SetFact(name, "fuse_interrupts_a", breaks.amps),
            SetFact(name, "fuse_voltage_v", breaks.volts),
        )
        words = "a Class T fuse there, and blade fuses only after it"
        if reading.level == "warn":
            words = f"say its `fuse_kind` or `fuse_interrupts`; if that is too little, {words}"
        return Remedy(words, edits)


def _of(inquiry: Inquiry, cable: CableView, fuse: FuseView) -> Reading:
    where = str(cable.start if fuse.end == "start" else cable.end)
    flows = inquiry.short_circuit(where)
    breaks, which = cable.facts.fuse_interrupts_a, "that fuse, as the file says,"
    kind = inquiry.fuse_breaks(cable.facts.fuse_kind)
    if breaks is None and kind is not None:
        breaks, which = kind.amps, f"a {(cable.facts.fuse_kind or '').replace('_', ' ')} fuse"
    if breaks is None:
        blade = inquiry.fuse_breaks("blade")
        least = 1000.0 if blade is None else blade.amps
        if flows <= least:
            return Reading(cable.name, None, "", flows, least, "A", fuse.end)
        message = (
            f"a short behind the fuse in `{cable.name}` makes about {flows:.0f} A flow, and the "
            f"file does not say what the fuse can break"
        )
        return Reading(cable.name, "warn", message, flows, least, "A", fuse.end)
    if flows <= breaks:
        return Reading(cable.name, None, "", flows, breaks, "A", fuse.end)
    message = (
        f"a short behind the fuse in `{cable.name}` makes about {flows:.0f} A flow; {which} breaks "
        f"{breaks:.0f} A"
    )
    return Reading(cable.name, "danger", message, flows, breaks, "A", fuse.end)
