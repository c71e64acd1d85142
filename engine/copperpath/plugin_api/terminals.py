"""Named points of a device where a cable ends."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Terminal:
    """One terminal.

    `main` True: a cable may name the device alone to mean this one.
    `seeking` True: a controller that looks for the most power on this side; what lies behind it
    is a source-side zone of its own. A law does not see its voltage and returns watts for it.
    `limit` names the parameter that is the highest voltage it may ever see.
    `gives` True: a converter gives power here (sources and stores give at all of theirs).
    `alternating` True: mains, as volts and amps of the in-phase part (rms); it may only be
    wired to terminals that are so too.
    `optional` True: it may stay without a cable.
    """

    name: str
    help: str
    main: bool = False
    seeking: bool = False
    gives: bool = False
    limit: str = ""
    alternating: bool = False
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Ways:
    """Terminals numbered `1` to the value of parameter `count`; only for blocks with `links`."""

    count: str
    help: str
