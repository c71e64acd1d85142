"""What the uncertain values do to the verdict, on the screen."""

from __future__ import annotations

from copperpath.record.record import Band, BandEnd, Effect, Verdict
from copperpath.report.layout import paragraph
from copperpath.report.words import duration, fixed, moment, place
from copperpath.station import Station

ENDS = {"low": "low", "high": "high", "middle": "the middle", "": "none"}


def band_words(band: Band, expected: Verdict) -> str:
    """`(low: Sun 29 March 08:10; high: lasts)`: the verdict at either end, in a few words."""
    ends = f"low: {_end(band.low, expected)}; high: {_end(band.high, expected)}"
    return f"({ends})"


def band_lines(band: Band | None, station: Station) -> list[str]:
    """Every uncertain value with what it does alone, the strongest first."""
    if band is None:
        return []
    lines = [f"Uncertain values ({len(band.effects)}), the one that moves the answer most first"]
    for effect in band.effects:
        where = place(effect.span, station)
        lines += paragraph(f"{_of(effect)}: {effect.text} ({where})", hanging="    ")
        lines += paragraph(
            f"low end: {effect.at_low}; high end: {effect.at_high}; {_moves(effect)}",
            indent="    ",
            hanging="    ",
        )
    if band.refused:
        lines += paragraph(f"the ends together do not fit each other: {band.refused}")
    lines += paragraph(
        "expected: every value at its middle; low and high: every value at its unfavourable or "
        "favourable end, all together. Which end is which was found one at a time; that they add "
        f"up is assumed. {band.runs} runs"
    )
    return lines


def _of(effect: Effect) -> str:
    names = effect.devices
    if len(names) <= 2:
        return " and ".join(names)
    return f"{names[0]} and {len(names) - 1} more"


def _moves(effect: Effect) -> str:
    if not effect.worst:
        return "moves nothing"
    if effect.moved_s > 0.0:
        amount = duration(effect.moved_s)
    elif effect.moved_charge > 1e-6:
        amount = f"{fixed(100.0 * effect.moved_charge, 1)} % of charge"
    else:
        amount = f"{fixed(effect.moved_v, 2)} V"
    return f"{ENDS[effect.worst]} is worst, moves {amount}"


def _end(end: BandEnd | None, expected: Verdict) -> str:
    if end is None:
        return "-"
    verdict = end.verdict
    if verdict.word != "runs down" or verdict.until is None:
        return verdict.word
    when = moment(verdict.until)
    return when if expected.word == "runs down" else f"runs down {when}"
