"""The screen of `copperpath seasons`: how many of them last, how low charge comes, and when."""

from __future__ import annotations

from copperpath.plugin_api import FloatArray
from copperpath.report.layout import Column, paragraph, table
from copperpath.report.words import MONTHS, duration, fixed, moment, percent
from copperpath.required import BASE
from copperpath.study.seasons import PERCENTS, ManySeasons, Share, percentiles

HEADINGS = tuple(Column(f"{each:g} %") for each in PERCENTS)
RANGES = "a column of 5 %: in five seasons of a hundred it is that little, or less"


def seasons_screen(found: ManySeasons) -> str:
    """The whole screen, plain text of 80 columns."""
    lines = [_title(found), *_shares(found), ""]
    lines += [*_charges(found), ""]
    lines += [*_months(found), ""]
    lines += [*_loads(found), ""]
    lines += [*_worst(found), ""]
    lines += _obtained(found)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _title(found: ManySeasons) -> str:
    count = len(found.seasons)
    case = "" if found.case == BASE else f', case "{found.case}"'
    days = duration(found.station.site.lasts_s)
    many = "1 season" if count == 1 else f"{count} seasons"
    return "\n".join(paragraph(f"{found.station.title}{case}: {many} of {days}", indent=""))


def _shares(found: ManySeasons) -> list[str]:
    lasts = f"LASTS in {_share(found.lasting)}: every load powered, no reserve drawn on"
    powered = f"every load powered, the reserve used where need be: {_share(found.powered)}"
    lines = [*paragraph(lasts), *paragraph(powered)]
    lines += paragraph(
        "between which shares the true one lies with 95 % confidence as so few were drawn; what "
        "the means and the way of drawing are worth comes on top",
        indent="  ",
    )
    unknown = sum(each.lasts is None for each in found.seasons)
    if unknown:
        lines += paragraph(f"{unknown} with a step that could not be solved count as not lasting")
    return lines


def _share(share: Share) -> str:
    return (
        f"{share.count} of {share.of} ({percent(share.share, 1)} %, "
        f"{percent(share.low, 1)} to {percent(share.high, 1)} %)"
    )


def _charges(found: ManySeasons) -> list[str]:
    stores = list(found.seasons[0].lowest_charge)
    if not stores:
        return ["There is no store whose charge could fall."]
    rows = [
        (name, *_each(percentiles([one.lowest_charge[name] for one in found.seasons]), 100.0))
        for name in stores
    ]
    columns = (Column("", right=False), *HEADINGS)
    return ["Lowest charge of a season, % of rated", *table(columns, rows), f"  {RANGES}"]


def _months(found: ManySeasons) -> list[str]:
    months = found.months()
    if not months:
        return ["In no season is a load short or a reserve reached."]
    columns = (
        Column("", right=False),
        Column("load first short"),
        Column("reserve first reached"),
    )
    rows = [
        (MONTHS[month - 1], str(short), str(reserve)) for month, (short, reserve) in months.items()
    ]
    none = [
        sum(each.first_short is None for each in found.seasons),
        sum(each.first_reserve is None for each in found.seasons),
    ]
    return ["When, in how many seasons", *table(columns, [*rows, ("never", *map(str, none))])]


def _loads(found: ManySeasons) -> list[str]:
    loads = list(found.seasons[0].short_s)
    if not loads:
        return ["No load is counted on."]
    columns = (Column("", right=False), *HEADINGS, Column("mean"), Column("seasons"))
    rows = []
    for name in loads:
        short = [each.short_s[name] for each in found.seasons]
        hours = _each(percentiles(short), 1.0 / 3600.0)
        mean = fixed(sum(short) / len(short) / 3600.0, 1)
        rows.append((name, *hours, mean, str(sum(each > 0.0 for each in short))))
    return [
        "Hours in a season for which a load is wanted and without power",
        *table(columns, rows),
        "  seasons: in how many it is ever without",
    ]


def _each(values: FloatArray, factor: float) -> list[str]:
    return [fixed(float(value) * factor, 1) for value in values]


def _worst(found: ManySeasons) -> list[str]:
    worst = found.worst
    words = f"the worst season has seed {worst.seed}"
    if worst.first_short is not None:
        words += f": `{worst.first_load}` is short from {moment(worst.first_short)}"
    elif worst.first_reserve is not None:
        words += f": the reserve is reached on {moment(worst.first_reserve)}"
    words += (
        f"; write `random_days` and `seed {worst.seed}` in the `station` block and run it to see "
        "it all"
    )
    return paragraph(words, indent="")


def _obtained(found: ManySeasons) -> list[str]:
    lines = ["How these figures were obtained"]
    for name, words in found.words.items():
        lines += paragraph(f"{name}: {words}", hanging="    ")
    lines += paragraph("requirements of the file are not judged here", hanging="    ")
    return lines
