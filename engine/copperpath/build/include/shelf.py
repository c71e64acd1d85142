"""Which library holds a part: looked up only where a file names one that it does not have."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from copperpath.build.include.libraries import file_of, libraries
from copperpath.build.include.paths import IncludeTrouble, read_text

_PART = re.compile(r"^part\s+(\w+)", re.MULTILINE)


@cache
def library_of_parts() -> Mapping[str, str]:
    """The library of each part by the part's name; libraries that cannot be read are passed over.

    The first of two libraries with one part wins.
    """
    found: dict[str, str] = {}
    for library, points in libraries().items():
        try:
            text = read_text(file_of(points), library)
        except IncludeTrouble:
            continue
        for name in _PART.findall(text):
            found.setdefault(name, library)
    return MappingProxyType(found)
