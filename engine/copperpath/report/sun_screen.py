"""The screen of `copperpath sun`: a table for each panel and sky, to be copied on a card."""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.report.layout import Column, paragraph, table
from copperpath.report.names_of_many import in_a_sentence
from copperpath.report.sun_words import (
    day_words,
    how_words,
    sky_words,
    sunny_hours,
    two_figures,
)
from copperpath.report.words import MONTHS, coordinates, offset
from copperpath.study.sun_yield import PanelYield, SunTable


def sun_screen(found: SunTable) -> str:
    """All of it, in lines of at most 80 columns."""
    station = found.station
    place = coordinates(station.site.latitude_deg, station.site.longitude_deg)
    head = paragraph(station.title, indent="")
    head.append(f"{place}, {day_words(found)}")
    clock = offset(station.site.starts)
    head += paragraph(
        f"Amps that the sun gives at the battery ({found.volts:.2f} V), by the hour on the "
        f"station's clock ({clock})",
        indent="",
    )
    sections = [head]
    hours = sunny_hours(found)
    for panel in found.panels:
        if not hours:
            sections.append([f"{in_a_sentence(panel.names)}: nothing"])
        elif found.monthly:
            sections += [_months(panel, sky, hours) for sky in found.skies]
        else:
            sections.append(_one_day(panel, found.skies, hours))
    how = ["How this was worked out"]
    for words in how_words(found):
        how += paragraph(words, hanging="    ")
    sections.append(how)
    return "\n\n".join("\n".join(lines) for lines in sections) + "\n"


def panel_words(panel: PanelYield) -> str:
    """`blanket`, or `east and west, each`."""
    return in_a_sentence(panel.names) + (", each" if len(panel.names) > 1 else "")


def _months(panel: PanelYield, sky: str, hours: Sequence[int]) -> list[str]:
    columns = [Column("hour", right=False), *(Column(month[:3]) for month in MONTHS)]
    amps = panel.amps[sky]
    rows = [
        [f"{hour:02d}-{hour + 1:02d}", *(two_figures(value) for value in amps[:, hour])]
        for hour in hours
    ]
    rows.append(["Ah a day", *(two_figures(value) for value in panel.amp_hours(sky))])
    if panel.sun_hours is not None:
        rows.append(["sun h", *(two_figures(value) for value in panel.sun_hours[sky])])
    return [*paragraph(f"{panel_words(panel)}: {sky_words(sky)}", indent=""), *table(columns, rows)]


def _one_day(panel: PanelYield, skies: Sequence[str], hours: Sequence[int]) -> list[str]:
    columns = [Column("hour", right=False), *(Column(sky) for sky in skies)]
    rows = [
        [f"{hour:02d}-{hour + 1:02d}", *(two_figures(panel.amps[sky][0, hour]) for sky in skies)]
        for hour in hours
    ]
    rows.append(["Ah that day", *(two_figures(panel.amp_hours(sky)[0]) for sky in skies)])
    if panel.sun_hours is not None:
        sun = panel.sun_hours
        rows.append(["sun h", *(two_figures(sun[sky][0]) for sky in skies)])
    return [*paragraph(panel_words(panel), indent=""), *table(columns, rows)]
