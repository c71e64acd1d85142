"""A small good station to vary, and building from text, for the tests of the builder."""

from __future__ import annotations

from pathlib import Path

from copperpath.build import BuildResult, build
from copperpath.catalogue import Catalogue, installed_catalogue
from copperpath.station import Station
from copperpath_grammar import parse

SITE = """station "Bog" {
    place 64.2 N, 27.7 E, 140 m
    starts 2026-06-19 08:00 +03:00
    lasts 72 h
    sky clear
    air 8 degC .. 19 degC
}
"""
DEVICES = """storage pack : lfp { capacity 12 Ah }
load rig : transceiver { receive 0.32 A; transmit 2.1 A; transmitting 15 % }
"""
CABLE = "cable pack -> rig { length 1 m; wire 1.5 mm2; fuse 10 A at pack }\n"
SMALL = SITE + DEVICES + CABLE
CATALOGUE = installed_catalogue()


def build_text(
    text: str, folder: Path | None = None, catalogue: Catalogue = CATALOGUE
) -> BuildResult:
    """Parse and build a text that the parser has nothing to say about."""
    parsed = parse(text)
    assert parsed.diagnostics == (), [each.message for each in parsed.diagnostics]
    assert parsed.file is not None
    return build(parsed.file, parsed.source, catalogue, folder)


def station_of(text: str, folder: Path | None = None) -> Station:
    """The station of a good text."""
    result = build_text(text, folder)
    assert result.diagnostics == (), [each.message for each in result.diagnostics]
    assert result.station is not None
    return result.station


def codes_of(text: str, folder: Path | None = None) -> list[str]:
    """The codes of a text's mistakes, in order."""
    return [each.code for each in build_text(text, folder).diagnostics]
