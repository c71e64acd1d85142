"""Many seasons as JSON, for programs: schema `copperpath.seasons/1`.

docs/results.md describes every key.
"""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

from copperpath.study.seasons import PERCENTS, ManySeasons, Season, Share, percentiles

SCHEMA = "copperpath.seasons/1"


def seasons_json(found: ManySeasons) -> str:
    """All of it as one document."""
    seasons = found.seasons
    tree = {
        "schema": SCHEMA,
        "station": found.station.title,
        "file": found.station.source.name,
        "case": found.case,
        "step_s": found.step_s,
        "seed": found.seed,
        "count": len(seasons),
        "lasts": _share(found.lasting),
        "powered": _share(found.powered),
        "percents": list(PERCENTS),
        "lowest_charge": {
            name: percentiles([each.lowest_charge[name] for each in seasons]).tolist()
            for name in seasons[0].lowest_charge
        },
        "without_power_s": {
            name: percentiles([each.short_s[name] for each in seasons]).tolist()
            for name in seasons[0].short_s
        },
        "first_by_month": {
            str(month): {"load_short": short, "reserve_reached": reserve}
            for month, (short, reserve) in found.months().items()
        },
        "seasons": [_season(each) for each in seasons],
        "provenance": dict(found.words),
    }
    return json.dumps(tree, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _share(share: Share) -> dict[str, Any]:
    return {
        "count": share.count,
        "of": share.of,
        "share": share.share,
        "low_95": share.low,
        "high_95": share.high,
    }


def _season(season: Season) -> dict[str, Any]:
    return {
        "seed": season.seed,
        "lasts": season.lasts,
        "powered": season.powered,
        "first_short": _time(season.first_short),
        "first_load": season.first_load,
        "first_reserve": _time(season.first_reserve),
        "lowest_charge": dict(season.lowest_charge),
        "without_power_s": dict(season.short_s),
    }


def _time(when: datetime | None) -> str | None:
    return None if when is None else when.isoformat(timespec="seconds")
