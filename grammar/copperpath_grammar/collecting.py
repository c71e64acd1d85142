"""Python's search for unreachable objects, put off while many objects are made that all stay.

A long file becomes some hundred thousand of them. The search would look through all again and
again, which takes as long as the reading itself. What nothing refers to any more is freed at once
as always.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def no_collecting() -> Iterator[None]:
    """Put it off for a while; it goes on as before afterwards, if it was on."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
