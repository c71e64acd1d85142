"""The `station` block: place, times, sky, air and ground."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path

from copperpath.build.accepting import ACCEPTING
from copperpath.build.air import read_air, read_record_low, read_spread
from copperpath.build.build_errors import MissingEntry, WrongForm
from copperpath.build.entries import known_entries
from copperpath.build.ground import COVERS, read_cover, read_horizon, read_reflection
from copperpath.build.random_days import read_spell
from copperpath.build.scope import Scope, unread_in
from copperpath.build.single_values import only_value, read_bounded
from copperpath.build.site_errors import NoSuchOffset, NoSuchPlace, StartWithoutOffset
from copperpath.build.sky import read_sky
from copperpath.over_year import Cover
from copperpath.station import Assumption, MeasuredSky, SiteSettings
from copperpath_grammar.nodes import StationNode
from copperpath_grammar.value_nodes import (
    Coordinate,
    Date,
    Entry,
    Measure,
    Moment,
    Negative,
    Number,
    Text,
)

ENTRIES = (
    "place",
    "starts",
    "lasts",
    "sky",
    "air",
    "air_spread",
    "random_days",
    "seed",
    "record_low",
    "horizon",
    "rime",
    "snow",
    "cover_spell",
    "ground_reflects",
    "repeats",
    "note",
    *ACCEPTING,
)
REPEATABLE = ("sky", "air", "rime", "snow", "ground_reflects", *ACCEPTING)
REQUIRED = {
    "place": ("where it stands", "place 64.22 N, 27.73 E, 140 m"),
    "starts": (
        "when it begins, with the clock's offset from UTC",
        "starts 2026-06-19 08:00 +03:00",
    ),
    "lasts": ("how long it runs", "lasts 72 h"),
    "sky": ("how much sun comes through", "sky clear"),
    "air": ("how warm the air is, coolest to warmest of the day", "air 8 degC .. 19 degC"),
}
PLACE_FORM = "latitude, longitude and, if you know it, height above the sea"
LONGEST_RUN_S = 3.0 * 366.0 * 86400.0
SITE = "station"


def build_site(
    node: StationNode, folder: Path | None, scope: Scope, assumptions: list[Assumption]
) -> SiteSettings | None:
    """Where, when and under which sky; None after a report. Defaults join `assumptions`."""
    kept, meant = known_entries(
        node.body.entries, ENTRIES, "the `station` block", scope, repeatable=REPEATABLE
    )
    by_name: Mapping[str, Entry] = {entry.name.text: entry for entry in kept}
    for name, (meaning, example) in REQUIRED.items():
        if name not in by_name and name not in meant and not unread_in(node.body, name):
            scope.report(
                MissingEntry(node.title.span, name, "the `station` block", meaning, example)
            )
    place = _place(by_name.get("place"), scope, assumptions)
    starts = _starts(by_name.get("starts"), scope)
    lasts_s = _lasts(by_name.get("lasts"), scope)
    run = None if starts is None or lasts_s is None else (starts, lasts_s)
    lines = {name: [e for e in kept if e.name.text == name] for name in REPEATABLE}
    skies, airs = lines["sky"], lines["air"]
    sky = read_sky(skies, folder, run, scope, assumptions) if skies else None
    air = read_air(airs, folder, run, scope) if airs else None
    record_low = read_record_low(by_name.get("record_low"), air, scope)
    # Light measured on the panels' own plane holds that from the ground already.
    in_plane = isinstance(sky, MeasuredSky) and sky.kind == "plane"
    unsaid = [] if in_plane else assumptions
    reflects = read_reflection(lines["ground_reflects"], run, scope, unsaid)
    horizon = read_horizon(by_name.get("horizon"), scope)
    covers = [(kind, read_cover(lines[kind], run, scope)) for kind in COVERS]
    spell_s = read_spell(by_name, scope, assumptions)
    spread, seed = read_spread(by_name, scope, assumptions)
    random_days, repeats = (_flag(by_name.get(name), scope) for name in ("random_days", "repeats"))
    _note(by_name.get("note"), scope)
    if place is None or run is None or sky is None or air is None or reflects is None:
        return None
    if horizon is None or spell_s is None or reflects.otherwise is None:
        return None
    return SiteSettings(
        *place,
        *run,
        sky,
        air.low_k,
        air.high_k,
        reflects.otherwise,
        repeats,
        air_by_month=air.by_month,
        record_low_k=record_low,
        air_file=air.file,
        air_spread_k=spread,
        seed=seed,
        ground_by_month=reflects.by_month,
        horizon=horizon,
        cover_spell_s=spell_s,
        random_days=random_days,
        covers=tuple(
            Cover(kind, cover.otherwise or 0.0, cover.by_month)
            for kind, cover in covers
            if cover is not None and (cover.otherwise or cover.by_month)
        ),
    )


def _place(
    entry: Entry | None, scope: Scope, assumptions: list[Assumption]
) -> tuple[float, float, float] | None:
    if entry is None:
        return None
    parts = entry.parts
    example = REQUIRED["place"][1]
    if len(parts) not in (2, 3) or any(part.joiner != "," for part in parts[1:]):
        scope.report(WrongForm(entry.span, "place", PLACE_FORM, example))
        return None
    if any(isinstance(part.value, Number | Negative) for part in parts[:2]):
        form = f"{PLACE_FORM}, each with its letter: N or S, then E or W"
        scope.report(WrongForm(entry.span, "place", form, example))
        return None
    first, second = (_coordinate(part.value) for part in parts[:2])
    if first and second and first.letter in "EW" and second.letter in "NS":
        example = ", ".join(parts[index].value.span.text for index in (1, 0, 2)[: len(parts)])
        scope.report(WrongForm(entry.span, "place", PLACE_FORM, f"place {example}"))
        return None
    if first is None or second is None or first.letter in "EW" or second.letter in "NS":
        scope.report(WrongForm(entry.span, "place", PLACE_FORM, example))
        return None
    for coordinate, most, words in (
        (first, 90.0, "the poles are at 90 degrees"),
        (second, 180.0, "longitudes go to 180 degrees"),
    ):
        if coordinate.degrees > most:
            scope.report(NoSuchPlace(coordinate.span, coordinate.span.text, words))
            return None
    latitude = first.degrees if first.letter == "N" else -first.degrees
    longitude = second.degrees if second.letter == "E" else -second.degrees
    if len(parts) == 2:
        basis = "no height is given; the air of the coast is taken"
        assumptions.append(Assumption(SITE, "height above the sea", "0 m", basis))
        return latitude, longitude, 0.0
    altitude = read_bounded(
        parts[2].value,
        "length",
        "place",
        scope,
        low=-430.0,
        high=8900.0,
        reason="the third value is the height above the sea",
        example="140 m",
        unit="m",
    )
    return None if altitude is None else (latitude, longitude, altitude)


def _coordinate(value: object) -> Coordinate | None:
    if isinstance(value, Coordinate):
        return value
    if isinstance(value, Measure) and value.unit in ("N", "E", "S", "W"):
        return Coordinate(value.value, value.unit, value.span)
    return None


def _starts(entry: Entry | None, scope: Scope) -> datetime | None:
    if entry is None:
        return None
    value = only_value(entry)
    if isinstance(value, Date):
        scope.report(StartWithoutOffset(value.span, f"{value.span.text} 08:00"))
        return None
    if not isinstance(value, Moment):
        takes = "a date and a time with the clock's offset from UTC"
        scope.report(WrongForm(entry.span, "starts", takes, REQUIRED["starts"][1]))
        return None
    if value.offset_minutes is None:
        scope.report(StartWithoutOffset(value.span, value.span.text))
        return None
    if not -12 * 60 <= value.offset_minutes <= 14 * 60:
        written = value.span.text.split()[-1]
        place = replace(value.span, start=value.span.end - len(written))
        scope.report(NoSuchOffset(place, written))
        return None
    day, clock = value.date, value.clock
    if not 1950 <= day.year <= 2150:
        takes = "a date between the years 1950 and 2150"
        scope.report(WrongForm(value.span, "starts", takes, REQUIRED["starts"][1]))
        return None
    zone = timezone(timedelta(minutes=value.offset_minutes))
    midnight = datetime(day.year, day.month, day.day, tzinfo=zone)
    return midnight + timedelta(hours=clock.hour, minutes=clock.minute)


def _lasts(entry: Entry | None, scope: Scope) -> float | None:
    if entry is None:
        return None
    value = only_value(entry)
    if value is None:
        scope.report(WrongForm(entry.span, "lasts", "one time", REQUIRED["lasts"][1]))
        return None
    return read_bounded(
        value,
        "time",
        "lasts",
        scope,
        low=60.0,
        high=LONGEST_RUN_S,
        reason="a run is between a minute and three years",
        example="72 h",
        unit="h",
    )


def _flag(entry: Entry | None, scope: Scope) -> bool:
    if entry is not None and entry.parts:
        scope.report(WrongForm(entry.span, entry.name.text, "no value", entry.name.text))
    return entry is not None


def _note(entry: Entry | None, scope: Scope) -> None:
    if entry is not None and not isinstance(only_value(entry), Text):
        scope.report(WrongForm(entry.span, "note", "a text in double quotes", 'note "plan B"'))
