"""Blade fuses: when they open, and what they lose.

The figures of the standard leave a band open; anything in it is right.
"""

from __future__ import annotations

from collections.abc import Iterator

from outside.checks.record import Record, band, numbered, origin
from support.sample_devices import settled, signals_at

from copperpath_plugins.blocks.fuse import Fuse

RATINGS_A = (3.0, 10.0, 40.0)
SMALL = {"type F, small blade": "small blade"}


def records() -> Iterator[Record]:
    """Opening times, then resistance, drop and energy to melt."""
    for rows, row in numbered("blade_fuse.csv"):
        kind = SMALL.get(row["kind"], "blade")
        percent = row["percent_of_rating"]
        for rating in RATINGS_A:
            claim = f"{rating:g} A {kind} at {percent} % (published for {row['ratings_a']} A)"
            if not row["most_s"]:
                hours = float(row["least_s"]) / 3600.0
                yield Record(
                    claim=f"{claim}: way to opening in {hours:g} h",
                    **band(0.0, 1.0),
                    ours=float(row["least_s"]) * damage_rate(float(percent), rating),
                    unit="",
                    why="it must not have opened by then",
                    rows=rows,
                    **origin(row),
                )
                continue
            yield Record(
                claim=claim,
                **band(float(row["least_s"] or 0.0), float(row["most_s"])),
                ours=1.0 / damage_rate(float(percent), rating),
                unit="s",
                why="the published band of opening times, its middle taken as the figure",
                rows=rows,
                **origin(row),
            )
    yield from _practice()


def damage_rate(percent: float, rating: float) -> float:
    """Damage a second of a cold fuse, 1 being open."""
    values = settled(Fuse, rating=rating)
    drop = percent / 100.0 * (1.0 - 1e-12) * rating * values["ohm"]
    return signals_at(Fuse, values, (12.0, 12.0 - drop), (0.0, 0.0))[0]


def _practice() -> Iterator[Record]:
    cold = settled(Fuse, rating=40.0, holder=0.0)["ohm"]
    small = settled(Fuse, rating=25.0, holder=0.0)["ohm"]
    amps = 6.0 * 40.0
    spread = "fuses of one rating differ by so much; ours is the cold fuse of another maker's size"
    warm = (
        "ours is the cold resistance at any current: at its rating a fuse is warm and has 1.7 "
        "times as much, which the model says that it leaves out"
    )
    found = {
        "40 A regular blade: typical drop at rated current": (40e3 * cold, 0.2, warm, 45.0),
        "40 A regular blade: typical cold resistance": (1e3 * cold, 1e-9, "", 0.0),
        "40 A regular blade: typical melting I2t": (
            amps**2 / damage_rate(600.0, 40.0),
            0.5,
            "",
            0.0,
        ),
        "40 A large blade: typical cold resistance": (1e3 * cold, 0.1, "", 0.0),
        "25 A small blade: typical drop at rated current": (25e3 * small, 0.2, warm, 30.0),
        "25 A small blade: typical cold resistance": (1e3 * small, 0.1, "", 0.0),
    }
    whys = {1e-9: "ours is this figure", 0.5: "at six times the rating; " + spread}
    for rows, row in numbered("fuse_practice.csv"):
        if row["item"] in found:
            ours, share, reason, most = found[row["item"]]
            expected = float(row["value"])
            yield Record(
                claim=row["item"].replace("I2t", "energy"),
                expected=expected,
                ours=ours,
                unit=row["unit"],
                tolerance=share * expected,
                why=whys.get(share, spread),
                rows=rows,
                disagrees=reason,
                at_most=most,
                **origin(row),
            )
