"""Which wire and which fuse a cable wants, and what each standard size would do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from copperpath.inquiry.budget import SpentError
from copperpath.inquiry.inquiry import StationInquiry
from copperpath.plugin_api import Terminal
from copperpath.station import Cable
from copperpath.wiring.ampacity import ampacity_of
from copperpath.wiring.standard_fuses import next_rating
from copperpath.wiring.standard_sizes import resized, series_of

RADIO_DROP = 0.03
OTHER_DROP = 0.10
"""Of the whole way from the battery, round trip, at the worst instant: ABYC E-11, ISO 13297."""

CONTINUOUS = 1.25
"""A fuse is rated so much above what flows for hours: NEC 210.20(A)."""


@dataclass(frozen=True, slots=True)
class LoadOnCable:
    """The load behind a cable that is nearest to its limit, and its terminal."""

    name: str
    terminal: str
    giver: str
    limit: float


@dataclass(frozen=True, slots=True)
class SizeTried:
    """A cable in one size: volts at the load, share of the volts lost on its whole way, watts lost
    in this cable, its mass [kg] and ampacity [A]; whether each limit is met."""

    size: str
    volts: float
    drop: float
    loss_w: float
    mass_kg: float | None
    ampacity_a: float
    drop_ok: bool
    amps_ok: bool


@dataclass(frozen=True, slots=True)
class WireChoice:
    """What a cable wants.

    Attributes
    ----------
    load : LoadOnCable or None
        None if nothing behind it is judged by its volts (a charger's cable).
    peak_a, lasting_a : float
        At the worst instant, and for as long as radios send or chargers push [A].
    tried : tuple of SizeTried
        Standard sizes in the cable's own system, and its own, the thinnest first; without `every`
        those alone that may carry what flows, and its own.
    smallest : str
        The smallest that meets both limits; "" if none does.
    fuse_a : float or None
        The smallest standard fuse that carries what flows.
    fuse_fits : bool
        It is within the ampacity of `smallest`.
    enough : bool
        The cable as it is has no less copper than `smallest`.
    """

    cable: str
    size: str
    length_m: float | None
    load: LoadOnCable | None
    peak_a: float
    lasting_a: float
    tried: tuple[SizeTried, ...]
    smallest: str
    fuse_a: float | None
    fuse_fits: bool
    enough: bool


@dataclass(frozen=True, slots=True)
class FusePlace:
    """A fuse: its cable, terminal, rating, what a short there makes flow, and what it breaks."""

    cable: str
    terminal: str
    rating_a: float
    kind: str
    short_a: float
    breaks_a: float | None


def choose_wires(
    inquiry: StationInquiry, names: Sequence[str], table: str, *, every: bool = False
) -> list[WireChoice]:
    """What each of some cables wants; `table` is the kind of wiring for ampacities. With `every`
    sizes that cannot be it are tried as well. In a very large station the last are left out: each
    is solved again for every size."""
    loads = _loads(inquiry)
    found: list[WireChoice] = []
    try:
        for name in names:
            found.append(_choice(inquiry, inquiry.cable(name), loads, table, every))
    except SpentError:
        return found
    return found


def direct_current(inquiry: StationInquiry) -> list[str]:
    """Names of the cables that carry no mains and whose length and size are known."""
    mains = {
        f"{device.name}.{terminal.name}"
        for device in inquiry.devices
        for terminal in device.model.terminals
        if isinstance(terminal, Terminal) and terminal.alternating
    }
    return [
        cable.name
        for cable in inquiry.cables
        if not {str(cable.start), str(cable.end)} & mains and not cable.missing
    ]


def fuse_places(inquiry: StationInquiry) -> list[FusePlace]:
    """Every fuse with what a short behind it would make flow."""
    found = []
    for cable in inquiry.cables:
        for fuse in cable.fuses:
            terminal = str(cable.start if fuse.end == "start" else cable.end)
            usual = inquiry.fuse_breaks(cable.facts.fuse_kind)
            breaks = cable.facts.fuse_interrupts_a
            if breaks is None and usual is not None:
                breaks = usual.amps
            found.append(
                FusePlace(
                    cable.name,
                    terminal,
                    fuse.rating_a,
                    cable.facts.fuse_kind or "",
                    inquiry.short_circuit(terminal),
                    breaks,
                )
            )
    return found


def _loads(inquiry: StationInquiry) -> dict[str, list[LoadOnCable]]:
    """For each cable the loads whose way goes over it."""
    found: dict[str, list[LoadOnCable]] = {}
    for device in inquiry.devices:
        if device.kind not in ("load", "converter") or device.model.spare:
            continue
        if device.kind == "converter" and device.model.powered is None:
            continue
        terminal = inquiry.supply_terminal(device.name)
        feed = inquiry.feed(terminal)
        if feed is None:
            continue
        limit = RADIO_DROP if device.model.keying is not None else OTHER_DROP
        for name in feed.cables:
            load = LoadOnCable(device.name, terminal, feed.giver, limit)
            found.setdefault(name, []).append(load)
    return found


def _drop(inquiry: StationInquiry, load: LoadOnCable) -> float:
    volts = inquiry.low.volts
    given = volts.get(load.giver, 0.0)
    return (given - volts.get(load.terminal, 0.0)) / given if given > 0.0 else 0.0


def _choice(
    inquiry: StationInquiry,
    cable: Cable,
    loads: dict[str, list[LoadOnCable]],
    table: str,
    every: bool,
) -> WireChoice:
    behind = loads.get(cable.name, [])
    load = max(behind, key=lambda each: _drop(inquiry, each) / each.limit) if behind else None
    corners = (inquiry.sending, inquiry.charging, inquiry.high)
    lasting = max(abs(corner.amps.get(cable.name, 0.0)) for corner in corners)
    peak = max(abs(inquiry.low.amps.get(cable.name, 0.0)), lasting)
    wanted = max(CONTINUOUS * lasting, peak)
    own = [fuse.rating_a for fuse in cable.fuses if fuse.rating_a >= wanted]
    fuse = min([*own, *filter(None, [next_rating(cable.facts.fuse_kind, wanted)])], default=None)
    standard = series_of(cable.wire)
    laid = {size: resized(cable, size) for size in standard} | {cable.wire: cable}
    carried = {size: _carried(inquiry, each, table) for size, each in laid.items()}
    sizes = sorted(laid, key=lambda size: laid[size].area_m2 or 0.0)
    tried = [s for s in sizes if every or s == cable.wire or carried[s] >= lasting]
    others = [size for size in tried if size != cable.wire]
    changed = dict(zip(others, inquiry.in_sizes(cable.name, others), strict=True))
    results = tuple(
        _tried(changed.get(size, inquiry), laid[size], load, behind, peak, lasting, carried[size])
        for size in tried
    )
    fits = [each for each in results if each.drop_ok and each.amps_ok and each.size in standard]
    with_fuse = [each for each in fits if fuse is not None and each.ampacity_a >= fuse]
    best = with_fuse or fits
    smallest = best[0].size if best else ""
    return WireChoice(
        cable.name,
        cable.wire,
        cable.length_m,
        load,
        peak,
        lasting,
        results,
        smallest,
        fuse,
        bool(with_fuse),
        bool(smallest) and sizes.index(cable.wire) >= sizes.index(smallest),
    )


def _carried(inquiry: StationInquiry, cable: Cable, table: str) -> float:
    ampacity = ampacity_of(cable, inquiry.air_high_k, table)
    return 0.0 if ampacity is None else ampacity.amps


def _tried(
    changed: StationInquiry,
    laid: Cable,
    load: LoadOnCable | None,
    behind: Sequence[LoadOnCable],
    peak_a: float,
    lasting_a: float,
    allowed_a: float,
) -> SizeTried:
    amps = abs(changed.low.amps.get(laid.name, peak_a)) or peak_a
    drops = [_drop(changed, each) <= each.limit + 1e-9 for each in behind]
    up = load is None or load.name not in changed.low.opened
    return SizeTried(
        laid.wire,
        changed.low.volts.get(load.terminal, 0.0) if load is not None else 0.0,
        _drop(changed, load) if load is not None else 0.0,
        amps**2 * laid.wire_ohm,
        laid.mass_kg,
        allowed_a,
        changed.low.found and all(drops) and up,
        allowed_a >= lasting_a,
    )
