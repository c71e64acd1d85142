"""In words, how the light of a run was obtained."""

from __future__ import annotations

from copperpath.over_year import MonthMean, WeatherFile
from copperpath.site.light import Light
from copperpath.site.place import Place, kilometres
from copperpath.site.sun import Sun
from copperpath.station import ClearSky

LOW_SUN_DEG = 10.0
"""Below it formulas for the clear sky part by 20 % and more: see "How the numbers are made"."""


def weather_words(sky: WeatherFile, place: Place) -> str:
    """Of a weather file."""
    away = kilometres(place, sky.weather.latitude_deg, sky.weather.longitude_deg)
    return (
        f"hours of a year, {sky.path} ({sky.form}), of a place {away:.0f} km away, by month, day "
        "and hour; each hour keeps its light, which follows the sun's height within it"
    )


def clear_words(sky: ClearSky, light: Light, sun: Sun) -> str:
    """Of the clear sky, or a share of it."""
    low, high = float(light.share.min()), float(light.share.max())
    if low == high == 1.0:
        share = "clear sky"
    elif f"{low:.0%}" == f"{high:.0%}":
        share = f"{low:.0%} of the clear sky's light"
    else:
        share = f"{low:.0%} to {high:.0%} of the clear sky's light, by date"
    if sky.by_month:
        share += ", straight lines between the middles of months"
    if any(isinstance(each, MonthMean) for each in sky.by_month.values()):
        share += ", so that the months' given means result"
    made = "formula of Ineichen and Perez, monthly turbidity map bundled with pvlib"
    highest = float(sun.apparent_elevation_deg.max())
    if 0.0 < highest < LOW_SUN_DEG:
        made += f"; with a sun of at most {highest:.1f} deg it is uncertain by 20 % and more"
    return f"{share} ({made})"
