"""Questions of the checklist: what no file can compute, until the file answers it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from copperpath.plugin_api import Inquiry, LevelWord, Reading


def asked_of_station(
    inquiry: Inquiry, question: str, level: LevelWord, message: str
) -> Iterator[Reading]:
    """One question for the whole station."""
    if inquiry.confirmed(question):
        yield Reading("station", None)
    else:
        yield Reading("station", level, message, open=True)


def asked_together(
    inquiry: Inquiry, question: str, level: LevelWord, devices: Sequence[str], message: str
) -> Iterator[Reading]:
    """One question for several devices, answered in the station or in each of them; `{names}` in
    the message becomes those that have no answer."""
    left = [name for name in devices if not inquiry.confirmed(question, name)]
    names = ", ".join(f"`{name}`" for name in left)
    yield Reading("station", level if left else None, message.format(names=names), open=bool(left))
