"""How much light comes through the sky: clear, a share of clear, or measured.

A share of clear scales beam and diffuse light alike, so `30 % of clear` is 30 % of the clear light
on every panel, however it stands.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from copperpath.over_year import ByMonth
from copperpath.plugin_api import FloatArray
from copperpath.site.clear_sky import clear_light
from copperpath.site.light import Light
from copperpath.site.months import over_months
from copperpath.site.place import Place, SiteProblem, day_number, day_of_year, shown
from copperpath.site.sun import Sun
from copperpath.station import ClearSky, MeasuredSky, SiteSettings

GAP_S = 7200.0
DARK = 5.0
"""Rows further apart than GAP_S [s] with more than DARK [W/m²] at either side leave a gap."""


def shaded_light(
    sky: ClearSky, shares: ByMonth, time_s: FloatArray, place: Place, sun: Sun
) -> Light:
    """Light of the clear sky, times the share that `sky` gives for each day.

    Parameters
    ----------
    shares : mapping of int to float
        Share in the middle of each month that has one.
    time_s : ndarray (time,) [s]
        Seconds since 1970-01-01 UTC, at which `sun` was worked out.
    """
    share = over_months(shares, sky.otherwise, time_s, place)
    if sky.by_date:
        days = day_number(time_s, place)
        for day, of_day in sky.by_date.items():
            share[days == (day - date(1970, 1, 1)).days] = of_day
    # Applied after the light is brought to a plane, whose formula is not proportional to it.
    return replace(clear_light(time_s, place, sun), share=share)


def measured_column(
    sky: MeasuredSky, name: str, time_s: FloatArray, settings: SiteSettings
) -> FloatArray:
    """A measured column at given times, on straight lines between its rows [W/m²].

    A row is the light at its time. The last row goes on for as long as the row before it did.

    Raises
    ------
    SiteProblem
        If a time lies outside the rows, or in a gap of more than two hours by day.
    """
    rows, values = sky.time_s, sky.columns[name]
    if len(rows) < 2:
        raise SiteProblem(f"`{sky.path}` needs at least two rows to give the sun over time")
    end = rows[-1] + (rows[-1] - rows[-2])
    if time_s[0] < rows[0] or time_s[-1] > end:
        raise SiteProblem(
            f"`{sky.path}` does not cover the whole run: its rows go from "
            f"{shown(rows[0], settings)} to {shown(rows[-1], settings)}, the run from "
            f"{shown(settings.starts.timestamp(), settings)} to "
            f"{shown(settings.starts.timestamp() + settings.lasts_s, settings)}",
            "change `starts` or `lasts`, or add rows",
        )
    if not np.all(np.isfinite(values)):
        bad = float(rows[int(np.argmin(np.isfinite(values)))])
        raise SiteProblem(
            f"`{sky.path}` has no number in column `{name}` at {shown(bad, settings)}"
        )
    _check_gaps(sky, rows, values, time_s, settings)
    return np.maximum(np.interp(time_s, rows, values), 0.0)


def _check_gaps(
    sky: MeasuredSky,
    rows: FloatArray,
    values: FloatArray,
    time_s: FloatArray,
    settings: SiteSettings,
) -> None:
    inside = (rows[1:] >= time_s[0]) & (rows[:-1] <= time_s[-1])
    wide = (np.diff(rows) > GAP_S) & (np.maximum(values[1:], values[:-1]) > DARK) & inside
    if np.any(wide):
        place = int(np.argmax(wide))
        raise SiteProblem(
            f"`{sky.path}` has nothing between {shown(rows[place], settings)} and "
            f"{shown(rows[place + 1], settings)}, while the sun shines",
            "fill the gap; it is not guessed",
        )


def measured_light(
    sky: MeasuredSky, time_s: FloatArray, sun: Sun, settings: SiteSettings
) -> tuple[Light, str]:
    """Light from measured columns, and in words how the parts that were not measured were made.

    With `global` alone, beam and diffuse are told apart as in D. G. Erbs, S. A. Klein,
    J. A. Duffie, Solar Energy 28 (1982) 293; with one more, the third follows from geometry.
    """
    level = measured_column(sky, "global", time_s, settings)
    whole = np.ones(level.shape)
    upright = np.cos(np.radians(sun.zenith_deg))
    # Very near the horizon a beam cannot be told from level light.
    safe = np.maximum(upright, 0.05)
    if "beam" in sky.columns and "diffuse" in sky.columns:
        beam = measured_column(sky, "beam", time_s, settings)
        diffuse = measured_column(sky, "diffuse", time_s, settings)
        return Light(level, beam, diffuse, whole), "as measured"
    if "beam" in sky.columns:
        beam = measured_column(sky, "beam", time_s, settings)
        diffuse = np.maximum(level - beam * np.maximum(upright, 0.0), 0.0)
        return Light(level, beam, diffuse, whole), "diffuse light is global less beam"
    if "diffuse" in sky.columns:
        diffuse = np.minimum(measured_column(sky, "diffuse", time_s, settings), level)
        beam = np.where(upright > 0.0, (level - diffuse) / safe, 0.0)
        how = "beam is global less diffuse, by the sun's height"
        return Light(level, np.minimum(beam, sun.beyond_air), diffuse, whole), how
    return _parted(level, time_s, sun), "beam and diffuse parted by the formula of Erbs"


def _parted(level: FloatArray, time_s: FloatArray, sun: Sun) -> Light:
    from pvlib.irradiance import erbs

    found = erbs(level, sun.zenith_deg, day_of_year(time_s))
    beam, diffuse = (
        np.nan_to_num(np.asarray(found[name], dtype=np.float64)) for name in ("dni", "dhi")
    )
    diffuse = np.clip(diffuse, 0.0, level)
    return Light(level, np.maximum(beam, 0.0), diffuse, np.ones(level.shape))
