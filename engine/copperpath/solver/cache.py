"""Where compiled code is kept, and the decorator of everything that is compiled.

numba's own cache looks at the file of a function, not at the files of what it calls, so a changed
callee would go unseen. Here the folder's name is a hash of all the compiled files together.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

import numba
from numba import njit
from numba.core import config as numba_config

COMPILED_FILES = (
    "assembly",
    "calls",
    "columns",
    "compiled_elementwise",
    "constants",
    "curve",
    "factors",
    "loop",
    "newton",
    "offers",
    "throttling",
)


@cache
def cache_folder() -> Path:
    """Where kernels are kept: the user's cache folder, or a temporary one if that is closed."""
    base = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    folder = (Path(base) if base else Path.home() / ".cache") / "copperpath" / "kernels"
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
    if os.access(folder, os.W_OK):
        return folder
    # Code is loaded from here, so the folder is made anew and is nobody else's.
    folder = Path(tempfile.mkdtemp(prefix="copperpath-")) / "kernels"
    folder.mkdir()
    return folder


@cache
def loop_folder() -> Path:
    """The folder for this very text of the compiled files and this version of numba."""
    here = Path(__file__).parent
    digest = hashlib.sha256(numba.__version__.encode())
    for name in COMPILED_FILES:
        digest.update((here / f"{name}.py").read_bytes())
    return cache_folder().with_name("loops") / digest.hexdigest()[:20]


# numba's settings are made at run time, so that no type checker knows them.
config: Any = numba_config


def _compiled(function: Callable[..., Any], **options: Any) -> Any:
    before = config.CACHE_DIR
    config.CACHE_DIR = str(loop_folder())
    try:
        return njit(error_model="numpy", cache=True, nogil=True, **options)(function)
    finally:
        config.CACHE_DIR = before


def compiled(function: Callable[..., Any]) -> Any:
    """Compile on first use, without exceptions for division, releasing the interpreter lock."""
    return _compiled(function)


def inlined(function: Callable[..., Any]) -> Any:
    """As `compiled`, and put into the code of those that call it: a call hands over each array as
    seven numbers, which for a circuit takes longer than many a small function."""
    return _compiled(function, forceinline=True)


def merged(function: Callable[..., Any]) -> Any:
    """As `inlined`, but not compiled on its own: for what is called from one place."""
    return _compiled(function, inline="always")


def reduced(function: Callable[..., Any]) -> Any:
    """As `inlined`, for sums and maxima of numbers (not NaN) that may be taken in any order."""
    return _compiled(function, forceinline=True, fastmath={"reassoc", "nnan", "nsz"})
