"""A finished run made by hand, with round figures, for the tests of reports and screens.

The figures are invented and need not fit each other; only what is shown is under test.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta, timezone
from typing import Any

import numpy as np

from copperpath.finding import Finding
from copperpath.record.record import (
    CableFigures,
    Case,
    CornerFigure,
    DeviceFigures,
    Ledger,
    Record,
    Required,
    RequirementResult,
    Trace,
    Verdict,
    WhatIf,
)
from copperpath.required import BASE
from copperpath.station import Assumption, ClearSky, SiteSettings, Station
from copperpath_grammar.diagnostics import Level
from copperpath_grammar.source import Source, Span

CLOCK = timezone(timedelta(hours=1))
STARTS = datetime(2026, 3, 28, 6, 0, tzinfo=CLOCK)
RUNS_DOWN_AT = datetime(2026, 3, 30, 12, 20, tzinfo=CLOCK)
WH = 3600.0
SOURCE = Source("fell.station", 'station "Fell" {\n}\n' + "\n" * 40)


def at_line(line: int) -> Span:
    """The beginning of a line of the made station's text."""
    start = SOURCE.line_start(line)
    assert start is not None
    return Span(SOURCE, start, start)


FINDING = Finding(
    Level.DANGER,
    "battery-lead-without-fuse",
    "nothing opens the 0.3 m lead `regulator.battery -> pack` at `pack`; shorted, it burns",
    "regulator.battery -> pack",
    at_line(28),
    "fit a fuse in it at `pack`",
)


def make_station() -> Station:
    """A station without devices; reports read the figures of the record."""
    site = SiteSettings(
        latitude_deg=68.35,
        longitude_deg=18.82,
        altitude_m=400.0,
        starts=STARTS,
        lasts_s=72 * 3600.0,
        sky=ClearSky(1.0, {}),
        air_low_k=255.15,
        air_high_k=269.15,
        ground_reflects=0.2,
        repeats=False,
    )
    assumptions = (
        Assumption("pack", "cutoff", "10.4 V", "2.6 V a cell, from memory"),
        Assumption("pack", "thermal_lag", "2 h", "a pack of about a kilogram, from memory"),
        Assumption("strip.1 -> rig", "joint", "none", "the file names no joint"),
    )
    return Station("Fell, made by hand", site, (), (), (), assumptions, SOURCE)


def make_device(name: str, kind: str, model: str) -> DeviceFigures:
    """One device with round figures."""
    stored = kind == "storage"
    wanted = kind == "load"
    return DeviceFigures(
        name=name,
        model=model,
        kind=kind,
        energy_j=120.0 * WH,
        voltage_min_v=12.4,
        voltage_mean_v=13.1,
        voltage_max_v=14.4,
        worst_voltage_v=12.61,
        worst_voltage_at=RUNS_DOWN_AT,
        current_mean_a=0.41,
        current_rms_a=0.8,
        current_max_a=2.3,
        powered_s=54.0 * 3600.0 if wanted else None,
        wanted_s=72.0 * 3600.0 if wanted else None,
        charge_min=0.1 if stored else None,
        charge_max=1.0 if stored else None,
        charge_end=0.1 if stored else None,
    )


def make_case() -> Case:
    """The base case: runs down on 30 March at 12:20."""
    verdict = Verdict(
        word="runs down",
        until=RUNS_DOWN_AT,
        first_load="rig",
        cause="charging blocked by cold",
        sentence="`rig` lost power on Mon 30 March 12:20, 54.3 h after the start",
        reserve_at=RUNS_DOWN_AT - timedelta(hours=2),
        cutoff_at=RUNS_DOWN_AT,
        drift_per_day=-0.31,
        what_ifs=(
            WhatIf("keeping the battery warm", "holds to the end", True, 17.0 * 3600.0),
            WhatIf("twice the capacity", "runs down 14 h later", False, 14.0 * 3600.0),
        ),
    )
    ledger = Ledger(
        sources=300 * WH,
        loads=320 * WH,
        cables=4 * WH,
        converters=20 * WH,
        storage_loss=6 * WH,
        stored_change=-50 * WH,
        leak=1e-6 * WH,
        residual=1e-9 * WH,
        throughput=350 * WH,
        worst_step_share=1e-12,
    )
    cable = CableFigures(
        name="strip.1 -> rig",
        start="strip.1",
        end="rig.line",
        wire="1.5 mm²",
        length_m=1.2,
        fuse_a=5.0,
        resistance_ohm=0.05,
        loss_j=1.9 * WH,
        peak_a=2.3,
        rms_a=0.8,
        worst_drop_v=0.12,
        worst_drop_share=0.0095,
    )
    requirements = (
        RequirementResult(
            "rig powered throughout",
            at_line(31),
            False,
            54.0 * 3600.0,
            72.0 * 3600.0,
            "s",
            RUNS_DOWN_AT,
            "without power from Mon 30 March 12:20",
        ),
        RequirementResult(
            "mass <= 6 kg", at_line(33), None, float("nan"), 6.0, "kg", None, "2 without mass"
        ),
        RequirementResult(
            "rig.voltage >= 10.5 V", at_line(32), True, 12.61, 10.5, "V", RUNS_DOWN_AT, "ok"
        ),
    )
    values = np.linspace(13.0, 12.0, 4)
    values.flags.writeable = False
    return Case(
        name="base",
        verdict=verdict,
        ledger=ledger,
        devices=(
            make_device("rig", "load", "transceiver"),
            make_device("pack", "storage", "lfp"),
            make_device("blanket", "source", "photovoltaic"),
            make_device("regulator", "converter", "mppt_charger"),
        ),
        cables=(cable,),
        requirements=requirements,
        low_corner=(CornerFigure("rig", 12.31, 10.5), CornerFigure("pack", 12.6, None)),
        high_corner=(CornerFigure("rig", 14.38, 10.5, 15.0),),
        traces={"rig.voltage": Trace("rig.voltage", "V", values, "mean over the key states")},
        outcomes={"solved": 4320, "not solved": 0},
        station=make_station(),
        time_s=STARTS.timestamp() + 60.0 * np.arange(4.0),
        findings=(FINDING,),
        assumptions=make_station().assumptions,
        provenance={"sky": "clear sky", "executor": "compiled loop"},
    )


def make_record() -> Record:
    """A record of four steps."""
    case = make_case()
    required = tuple(Required(each, BASE, (BASE,), ()) for each in case.requirements)
    return Record(make_station(), 60.0, (case,), required)


def with_verdict(record: Record, **changes: Any) -> Record:
    """The same record with another verdict."""
    verdict = replace(record.verdict, **changes)
    return replace(record, cases=(replace(record.base, verdict=verdict),))
