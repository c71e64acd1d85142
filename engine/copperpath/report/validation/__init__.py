"""What was checked against the outside world, from a table that comes along."""

from copperpath.report.validation.table import (
    Figure,
    NotChecked,
    Topic,
    Validation,
    read_validation,
)

__all__ = ["Figure", "NotChecked", "Topic", "Validation", "read_validation"]
