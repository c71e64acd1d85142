"""The tables of a run: ledger, devices, cables, low corner. Every heading carries its unit."""

from __future__ import annotations

from copperpath.record.record import Case, CornerFigure, DeviceFigures, Ledger
from copperpath.report.layout import Column, paragraph, table
from copperpath.report.words import JOULES_PER_WH, fixed, percent, watt_hours

LEDGER_ROWS = (
    ("loads", "loads took"),
    ("cables", "lost in cables, fuses and blocks"),
    ("converters", "lost in converters"),
    ("storage_loss", "lost inside storage"),
    ("stored_change", "went into storage"),
    ("leak", "lost in the solver's own leak"),
)


def ledger_lines(case: Case) -> list[str]:
    """Where the energy came from and where it went, and by how much that does not add up."""
    ledger = case.ledger
    rows = [("sources gave", watt_hours(ledger.sources), "")]
    for name, words in LEDGER_ROWS:
        joules = getattr(ledger, name)
        if name == "stored_change" and joules < 0.0:
            rows.append(("came out of storage", watt_hours(-joules), _share(-joules, ledger)))
        elif name != "leak":
            rows.append((words, watt_hours(joules), _share(joules, ledger)))
    rest = ledger.residual / ledger.throughput if ledger.throughput > 0.0 else 0.0
    lines = ["Energy over the whole run"]
    lines += table(
        (Column("", right=False), Column("Wh"), Column("% of all")),
        rows,
    )
    lines.append(
        f"  left over {ledger.residual / JOULES_PER_WH:.1e} Wh, {abs(rest):.0e} of what flowed; "
        f"the solver's leak {ledger.leak / JOULES_PER_WH:.1e} Wh"
    )
    return lines


def device_lines(case: Case) -> list[str]:
    """Loads, storage, then sources and converters, each with the figures that matter for it."""
    lines: list[str] = []
    for part in (_loads(case), _stores(case), _givers(case)):
        if part:
            lines += ([""] if lines else []) + part
    return lines


def cable_lines(case: Case) -> list[str]:
    """Each run of cable with its loss and its worst drop."""
    if not case.cables:
        return []
    columns = (
        Column("Cables", right=False),
        Column("wire", right=False, widest=14),
        Column("mohm"),
        Column("loss Wh"),
        Column("peak A"),
        Column("drop V"),
        Column("drop %"),
    )
    rows = [
        (
            cable.name,
            cable.wire if cable.wire and cable.length_m is not None else "not given",
            fixed(1000.0 * cable.resistance_ohm, 1),
            watt_hours(cable.loss_j, 2),
            fixed(cable.peak_a, 2),
            fixed(cable.worst_drop_v, 2),
            percent(cable.worst_drop_share, 1),
        )
        for cable in case.cables
    ]
    return [*table(columns, rows), "  resistance out and back with fuse; drop at the worst instant"]


def corner_lines(case: Case) -> list[str]:
    """Voltages when everything is against the station at once, low and high."""
    low = {figure.device: figure for figure in case.low_corner}
    high = {figure.device: figure for figure in case.high_corner}
    if not low and not high:
        return []
    rows = []
    for name in dict.fromkeys((*low, *high)):
        below, above = low.get(name), high.get(name)
        rows.append(
            (
                name,
                fixed(below.voltage_v, 2) if below else "-",
                fixed(below.needs_v, 2) if below else "-",
                fixed(above.voltage_v, 2) if above else "-",
                fixed(above.takes_v, 2) if above else "-",
                _corner_words(below, above),
            )
        )
    columns = (
        Column("Corners", right=False, widest=24),
        Column("low V"),
        Column("needs V"),
        Column("high V"),
        Column("takes V"),
        Column("", right=False),
    )
    caption = f"low: {_keyed(case)}, lowest planned charge, coldest cell, no sun"
    low_k = case.station.site.record_low_k
    cold = "coldest cell" if low_k is None else f"record low of {low_k - 273.15:.3g} °C"
    return [
        *table(columns, rows),
        *paragraph(caption, hanging="    "),
        *paragraph(
            f"high: no radio keyed, nothing else on, stores full, most sun, {cold}", hanging="    "
        ),
    ]


def _keyed(case: Case) -> str:
    """Which radios send at the worst instant."""
    one = " (of those never together one)" if case.station.never_together else ""
    return f"every radio keyed{one}"


def _corner_words(low: CornerFigure | None, high: CornerFigure | None) -> str:
    words = []
    if low is not None and low.needs_v is not None and low.voltage_v < low.needs_v:
        words.append("TOO LOW")
    if high is not None and high.takes_v is not None and high.voltage_v > high.takes_v:
        words.append("TOO HIGH")
    return ", ".join(words)


def _share(joules: float, ledger: Ledger) -> str:
    """Of all that was there to be used: the sources' energy and what came out of storage."""
    there = ledger.sources + max(-ledger.stored_change, 0.0)
    return percent(joules / there, 1) if there > 0.0 else "-"


def _loads(case: Case) -> list[str]:
    loads = [device for device in case.devices if device.kind == "load"]
    if not loads:
        return []
    columns = (
        Column("Loads", right=False, widest=18),
        Column("took Wh"),
        Column("mean V"),
        Column("worst V"),
        Column("mean A"),
        Column("peak A"),
        Column("powered h"),
        Column("of h"),
    )
    rows = [
        (
            load.name,
            watt_hours(load.energy_j),
            fixed(load.voltage_mean_v, 2),
            fixed(load.worst_voltage_v, 2),
            fixed(load.current_mean_a, 3),
            fixed(load.current_max_a, 2),
            _hours(load.powered_s),
            _hours(load.wanted_s),
        )
        for load in loads
    ]
    return [
        *table(columns, rows),
        *paragraph(f"worst V: the lowest instant while wanted, {_keyed(case)}", hanging="    "),
        "  mean: over the whole run, the hours in which it is off or without power too",
    ]


def _stores(case: Case) -> list[str]:
    stores = [device for device in case.devices if device.kind == "storage"]
    if not stores:
        return []
    columns = (
        Column("Storage", right=False, widest=18),
        Column("net Wh"),
        Column("low V"),
        Column("high V"),
        Column("peak A"),
        Column("charge % low"),
        Column("high"),
        Column("at end"),
    )
    rows = [
        (
            store.name,
            watt_hours(store.energy_j),
            fixed(store.voltage_min_v, 2),
            fixed(store.voltage_max_v, 2),
            fixed(store.current_max_a, 2),
            percent(store.charge_min, 1),
            percent(store.charge_max, 1),
            percent(store.charge_end, 1),
        )
        for store in stores
    ]
    return [
        *table(columns, rows),
        "  charge is a share of the rated one; cold holds some of it back",
    ]


def _givers(case: Case) -> list[str]:
    givers = [device for device in case.devices if device.kind in ("source", "converter")]
    if not givers:
        return []
    columns = (
        Column("Sources, converters", right=False, widest=20),
        Column("model", right=False, widest=14),
        Column("gave Wh"),
        Column("mean V"),
        Column("high V"),
        Column("mean A"),
        Column("peak A"),
    )
    lines = table(columns, [_giver_row(device) for device in givers])
    if any(device.energy_j < 0.0 for device in givers):
        lines.append("  below 0 Wh: it drew that for itself")
    return lines


def _giver_row(device: DeviceFigures) -> tuple[str, ...]:
    return (
        device.name,
        device.model,
        watt_hours(device.energy_j),
        fixed(device.voltage_mean_v, 2),
        fixed(device.voltage_max_v, 2),
        fixed(abs(device.current_mean_a), 3),
        fixed(abs(device.current_max_a), 2),
    )


def _hours(seconds: float | None) -> str:
    return "-" if seconds is None else fixed(seconds / 3600.0, 1)
