"""A datasheet as it is read: the model at its end and the entries given so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from copperpath.plugin_api import Model
from copperpath_grammar.value_nodes import Entry


@dataclass(frozen=True, slots=True)
class Sheet:
    """A model and the entries that chains of parts give it, by the parameter they speak of.

    `meant` holds parameters that a mistyped entry was probably meant as: they are not missing.
    """

    model: type[Model]
    entries: Mapping[str, Entry]
    meant: frozenset[str] = frozenset()
