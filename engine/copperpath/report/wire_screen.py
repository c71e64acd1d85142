"""The screen of `copperpath wire`: what each cable wants, or one cable in every size."""

from __future__ import annotations

from collections.abc import Sequence

from copperpath.inquiry.wire_choice import FusePlace, SizeTried, WireChoice
from copperpath.report.layout import Column, paragraph, table
from copperpath.report.run_screen import CAUTION
from copperpath.report.words import fixed

HOW = (
    "Each size was put into the station and all of it solved again at the worst instant: every "
    "radio keyed that may be, lowest planned charge, coldest cell. Drop is that of the whole way "
    "from the battery, out and back: 3 % for radios, 10 % for others (ABYC E-11, ISO 13297). A "
    "fuse carries a quarter more than what flows for long (NEC 210.20(A))."
)


def overview(
    title: str,
    choices: Sequence[WireChoice],
    fuses: Sequence[FusePlace],
    ampacities: str,
    left: int = 0,
) -> str:
    """All cables with what they want, and all fuses with what a short makes flow; so many cables
    are left out, as the station is too large."""
    columns = (
        Column("cable", right=False, widest=27),
        Column("peak A"),
        Column("volts"),
        Column("drop %"),
        Column("has", right=False),
        Column("wants", right=False),
        Column("fuse A"),
    )
    lines = [title, "", "What each cable wants (the smallest standard size that is enough)"]
    lines += table(columns, [_row(choice) for choice in choices])
    short = [choice for choice in choices if not choice.smallest]
    for choice in short:
        lines += paragraph(
            f"`{choice.cable}`: no standard size is enough while the other cables stay as they are"
        )
    if left:
        lines += paragraph(
            f"{left} more {'cable' if left == 1 else 'cables'} not tried, as so large a station "
            "takes long to solve again: name one, and it alone is tried"
        )
    if fuses:
        lines += ["", "What a short behind each fuse makes flow (within about 30 %)"]
        lines += table(
            (
                Column("fuse in", right=False, widest=30),
                Column("at", right=False, widest=16),
                Column("A"),
                Column("short A"),
                Column("breaks A"),
                Column("kind", right=False),
            ),
            [_fuse_row(fuse) for fuse in fuses],
        )
    return "\n".join([*lines, *_foot(ampacities)]) + "\n"


def one_cable(title: str, choice: WireChoice, ampacities: str) -> str:
    """One cable in every standard size."""
    lines = [title, ""]
    length = "" if choice.length_m is None else f", {choice.length_m:g} m one way"
    lines += paragraph(f"`{choice.cable}`: {choice.size}{length}", indent="")
    lines += paragraph(
        f"{choice.peak_a:.1f} A at the worst instant, {choice.lasting_a:.1f} A for long"
    )
    if choice.load is not None:
        lines += paragraph(
            f"judged by `{choice.load.name}`, which may lose {100.0 * choice.load.limit:.0f} % on "
            f"its way from `{choice.load.giver}`"
        )
    columns = (
        Column("size", right=False),
        Column("volts"),
        Column("drop %"),
        Column("loss W"),
        Column("mass g"),
        Column("ampacity A"),
        Column("", right=False),
    )
    lines += ["", *table(columns, [_size_row(each, choice) for each in choice.tried]), ""]
    if choice.smallest:
        lines += paragraph(f"wants {choice.smallest}")
    else:
        lines += paragraph("no standard size is enough while the other cables stay as they are")
    if choice.fuse_a is not None:
        fits = "" if choice.fuse_fits else ", which is more than the wire may carry"
        lines += paragraph(f"the next standard fuse is {choice.fuse_a:g} A{fits}")
    return "\n".join([*lines, *_foot(ampacities)]) + "\n"


def _row(choice: WireChoice) -> list[str]:
    now = next((each for each in choice.tried if each.size == choice.size), None)
    judged = choice.load is not None and now is not None
    return [
        choice.cable,
        fixed(choice.peak_a, 1),
        fixed(now.volts, 2) if judged and now is not None else "-",
        fixed(100.0 * now.drop, 1) if judged and now is not None else "-",
        choice.size,
        choice.smallest or "none",
        "-" if choice.fuse_a is None else f"{choice.fuse_a:g}" + ("" if choice.fuse_fits else "!"),
    ]


def _size_row(size: SizeTried, choice: WireChoice) -> list[str]:
    marks = []
    if size.size == choice.size:
        marks.append("as written")
    if size.size == choice.smallest:
        marks.append("wanted")
    if not size.drop_ok:
        marks.append("drop")
    if not size.amps_ok:
        marks.append("amps")
    judged = choice.load is not None
    return [
        size.size,
        fixed(size.volts, 2) if judged else "-",
        fixed(100.0 * size.drop, 1) if judged else "-",
        fixed(size.loss_w, 2),
        "-" if size.mass_kg is None else f"{1e3 * size.mass_kg:.0f}",
        f"{size.ampacity_a:.0f}",
        ", ".join(marks),
    ]


def _fuse_row(fuse: FusePlace) -> list[str]:
    breaks = "not said" if fuse.breaks_a is None else f"{fuse.breaks_a:.0f}"
    over = fuse.breaks_a is not None and fuse.short_a > fuse.breaks_a
    return [
        fuse.cable,
        fuse.terminal,
        f"{fuse.rating_a:g}",
        f"{fuse.short_a:.0f}",
        breaks + ("!" if over else ""),
        fuse.kind or "not said",
    ]


def _foot(ampacities: str) -> list[str]:
    return [
        "",
        *paragraph(HOW, indent=""),
        *paragraph(f"Ampacity: {ampacities}", indent=""),
        "",
        *paragraph(CAUTION, indent=""),
    ]
