"""All checks by topic, each worked out once in a run of the tests."""

from __future__ import annotations

from functools import lru_cache
from importlib import import_module

from outside.checks.record import Record

TOPICS = (
    "units",
    "wires",
    "wiring",
    "fuses",
    "sun",
    "light",
    "clear_sky",
    "panel_curve",
    "panel_list",
    "lithium",
    "lead_acid",
    "battery_facts",
    "radios",
    "usb",
    "chain",
)


def about(topic: str) -> str:
    """What a topic is about: the first line of its module."""
    module = import_module(f"outside.checks.{topic}")
    return str(module.__doc__).partition("\n")[0].rstrip(".")


@lru_cache
def records_of(topic: str) -> dict[str, Record]:
    """The records of a topic by their claim; no two may say the same."""
    found: dict[str, Record] = {}
    for record in import_module(f"outside.checks.{topic}").records():
        assert record.claim not in found, record.claim
        found[record.claim] = record
    return found
