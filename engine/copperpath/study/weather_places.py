"""Weather files that tell of another place than the station's."""

from __future__ import annotations

from copperpath.finding import Finding
from copperpath.over_year import WeatherFile
from copperpath.record.run import Run
from copperpath.site.place import kilometres
from copperpath_grammar.diagnostics import Level

FAR_KM = 50.0
HIGHER_M = 300.0
"""A file of a place farther off than this, or so much higher or lower, is warned of: common
practice, no source. 300 m are some 2 K."""


def findings(run: Run) -> list[Finding]:
    """One warning for each file that is far off."""
    site, place = run.problem.station.site, run.problem.site.place
    files = {
        file.path: file.weather
        for file in (site.sky, site.air_file)
        if isinstance(file, WeatherFile)
    }
    found = []
    for path, weather in files.items():
        away = kilometres(place, weather.latitude_deg, weather.longitude_deg)
        higher = weather.altitude_m - place.altitude_m
        if away <= FAR_KM and abs(higher) <= HIGHER_M:
            continue
        way = "higher" if higher > 0.0 else "lower"
        found.append(
            Finding(
                Level.WARN,
                "weather-from-elsewhere",
                f"`{path}` is of a place {away:.0f} km away and {abs(higher):.0f} m {way}; its "
                "light and its air are not the station's",
                "station",
                None,
                "take a file of a nearer place, or look whether `place` is right",
            )
        )
    return found
