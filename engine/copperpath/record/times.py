"""Moments in words."""

from __future__ import annotations

from datetime import datetime


def day_and_time(moment: datetime) -> str:
    """`Mon 30 March 12:20`."""
    return f"{moment:%a} {moment.day} {moment:%B %H:%M}"
