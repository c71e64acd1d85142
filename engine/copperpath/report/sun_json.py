"""The table of the sun as JSON, schema `copperpath.sun/1`."""

from __future__ import annotations

import json
import math
from typing import Any

from copperpath.plugin_api import FloatArray
from copperpath.report.sun_words import how_words
from copperpath.report.words import offset
from copperpath.study.sun_yield import PanelYield, SunTable

SCHEMA = "copperpath.sun/1"


def sun_json(table: SunTable) -> str:
    """One document; a figure that does not exist is `null`."""
    document = {
        "schema": SCHEMA,
        "station": table.station.title,
        "file": table.station.source.name,
        "clock": offset(table.station.site.starts),
        "battery": list(table.battery),
        "battery_V": round(table.volts, 4),
        "days": [day.isoformat() for day in table.days],
        "each_day_stands_for_its_month": table.monthly,
        "skies": list(table.skies),
        "panels": [_panel(panel) for panel in table.panels],
        "how": how_words(table),
    }
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _panel(panel: PanelYield) -> dict[str, Any]:
    hours = panel.sun_hours
    return {
        "names": list(panel.names),
        "amps_by_day_and_hour_A": {sky: _rows(amps) for sky, amps in panel.amps.items()},
        "per_day_Ah": {sky: _row(panel.amp_hours(sky)) for sky in panel.amps},
        "sun_hours": None if hours is None else {sky: _row(row) for sky, row in hours.items()},
    }


def _rows(values: FloatArray) -> list[list[float | None]]:
    return [_row(row) for row in values]


def _row(values: FloatArray) -> list[float | None]:
    return [round(value, 4) if math.isfinite(value) else None for value in values.tolist()]
