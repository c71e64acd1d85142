"""Where compiled code is kept, and the decorator of everything that is compiled.

numba's own cache looks at the file of a function, not at the files of what it calls, so a changed
callee would go unseen. Here the folder's name is a hash of all the compiled files together.
"""

from __future__ import annotations

import ctypes
import hashlib
import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from typing import Any

import numba
from numba import cfunc, njit, types
from numba.core import config as numba_config
from numba.core.compiler_lock import global_compiler_lock

COMPILED_FILES = (
    "assembly",
    "best_voltage",
    "cache",
    "calls",
    "circuit_arrays",
    "columns",
    "compiled_elementwise",
    "completing",
    "constants",
    "curve",
    "elimination_rows",
    "factors",
    "loop",
    "newton",
    "offers",
    "places",
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


PART_LEVEL = 2
"""How hard the compiler works on the parts of the solver. More takes twice as long and gains
nothing, for they call the kernels through addresses and their inner loops are short."""

# numba's settings are made at run time, so that no type checker knows them.
config: Any = numba_config


WITHIN: dict[str, Any] = {"no_cpython_wrapper": True, "no_cfunc_wrapper": True}
"""Options of what is called by compiled code alone."""


@contextmanager
def _in_loop_folder() -> Iterator[None]:
    """Within it numba keeps its files there."""
    before = config.CACHE_DIR
    config.CACHE_DIR = str(loop_folder())
    try:
        yield
    finally:
        config.CACHE_DIR = before


def _compiled(function: Callable[..., Any], **options: Any) -> Any:
    with _in_loop_folder():
        return njit(error_model="numpy", nogil=True, **options)(function)


def compiled(function: Callable[..., Any]) -> Any:
    """Compile on first use, without exceptions for division, releasing the interpreter lock."""
    return _compiled(function, cache=True)


def inner(function: Callable[..., Any]) -> Any:
    """As `compiled`, for what compiled code alone calls."""
    return _compiled(function, **WITHIN)


def inlined(function: Callable[..., Any]) -> Any:
    """As `compiled`, and put into the code of those that call it: a call hands over each array as
    seven numbers, which for a circuit takes longer than many a small function."""
    return _compiled(function, forceinline=True, **WITHIN)


def merged(function: Callable[..., Any]) -> Any:
    """As `inlined`, but not compiled on its own: for what is called from one place."""
    return _compiled(function, inline="always", **WITHIN)


def reduced(function: Callable[..., Any]) -> Any:
    """As `inlined`, for sums and maxima of numbers (not NaN) that may be taken in any order."""
    return _compiled(function, forceinline=True, fastmath={"reassoc", "nnan", "nsz"}, **WITHIN)


class Part:
    """A compiled function that gives a whole number and is called through its address, by compiled
    code with `calls.call_part`, by Python with addresses and whole numbers. It is compiled when its
    address is first asked for."""

    def __init__(self, function: Callable[..., Any], kinds: tuple[Any, ...]) -> None:
        self.function, self.kinds = function, kinds
        self._compiled: Any = None
        self._address = 0

    @property
    def address(self) -> int:
        """Where its code stands."""
        if self._address == 0:
            # numba's settings hold for the whole process, so nobody else may compile meanwhile.
            with global_compiler_lock:
                if self._compiled is None:
                    self._compiled = self._compile()
                self._address = int(self._compiled.address)
        return self._address

    def __call__(self, *given: int) -> int:
        """Call it, letting go of the interpreter."""
        kinds = [ctypes.c_int64] * len(self.kinds)
        return int(ctypes.CFUNCTYPE(ctypes.c_int64, *kinds)(self.address)(*given))

    def _compile(self) -> Any:
        level, vectors = config.OPT, config.LOOP_VECTORIZE
        config.OPT, config.LOOP_VECTORIZE = type(level)(PART_LEVEL), 0
        signature = types.int64(*self.kinds)
        try:
            with _in_loop_folder():
                return cfunc(signature, error_model="numpy", cache=True)(self.function)
        finally:
            config.OPT, config.LOOP_VECTORIZE = level, vectors


def part(*kinds: Any) -> Callable[[Callable[..., Any]], Part]:
    """Make a function of these kinds of arguments a `Part`."""
    return lambda function: Part(function, kinds)
