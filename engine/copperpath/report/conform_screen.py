"""The screen of `copperpath conform`: a line for each check, then every breach in words."""

from __future__ import annotations

from copperpath.conformance.breach import Breach, Examination, Outcome, inputs_text
from copperpath.report.layout import paragraph

TITLE_WIDTH = 44


def conform_screen(examination: Examination) -> str:
    """All that the suite found on one model.

    Parameters
    ----------
    examination : Examination
        As the suite made it.
    """
    lines = [_summary(examination), *paragraph(_drawn(examination), indent="  "), ""]
    for outcome in examination.outcomes:
        lines += _row(outcome)
    for outcome in examination.outcomes:
        if outcome.breaches:
            lines += ["", f"Breach: {outcome.title}"]
        for breach in outcome.breaches:
            lines += _breach(breach)
    return "\n".join(lines) + "\n"


def _summary(examination: Examination) -> str:
    found = [outcome for outcome in examination.outcomes if outcome.breaches]
    word = "conforms"
    if found:
        word = f"does NOT conform: {len(found)} check{'s' if len(found) != 1 else ''} failed"
    return f"{examination.model} ({examination.kind}) {word}"


def _drawn(examination: Examination) -> str:
    devices = examination.devices
    text = f"{devices} device{'s' if devices != 1 else ''} drawn with seed {examination.seed}"
    if examination.refused:
        text += f"; {examination.refused} more were refused by the model and drawn again"
    return text


def _row(outcome: Outcome) -> list[str]:
    word = outcome.word
    if outcome.skipped:
        word = f"- {outcome.skipped}"
    start = f"  {outcome.title:<{TITLE_WIDTH}}  "
    return paragraph(word, indent=start, hanging=" " * (len(start) + 2))


def _breach(breach: Breach) -> list[str]:
    lines = paragraph(breach.wrong, indent="  ")
    if breach.device:
        lines += paragraph(breach.device, indent="    with  ", hanging=" " * 10)
    if breach.inputs:
        lines += paragraph(inputs_text(breach), indent="    at    ", hanging=" " * 10)
    return lines + paragraph(breach.remedy, indent="    do    ", hanging=" " * 10)
