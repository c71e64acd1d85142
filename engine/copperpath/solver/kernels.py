"""From a model's own text to compiled kernels, kept in the user's cache folder.

Each kernel is a generated file named by a hash of its text and of the numba and interface
versions. It works out a law's currents and their slopes (one-sided differences) for all devices of
its model, which lie side by side (see `layout.py`), so that the time loop calls each model once an
iteration through an address and knows none.
"""

from __future__ import annotations

import ast
import builtins
import dis
import hashlib
import importlib.util
import inspect
import os
import sys
import textwrap
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import numba

from copperpath.plugin_api import INTERFACE_VERSION, Model
from copperpath.solver.cache import cache_folder
from copperpath.solver.layout import LANES, rows_of
from copperpath.solver.shapes import LawShape, law_shape

HELPERS = ("where", "between", "table", "constant_power", "constant_current")

HEADER = '''"""Generated from the text of `{model}`; safe to delete."""
from collections import namedtuple

import numpy as np
from numba import carray, cfunc, njit, types

from copperpath.solver.constants import OFFER_POINTS
from copperpath.solver.compiled_elementwise import (
    between, constant_current, constant_power, offer_at, table, where,
)

MOST_BLOCKS = 1_000_000
INNER = {{"error_model": "numpy", "no_cpython_wrapper": True, "no_cfunc_wrapper": True}}
'''

SIGNATURE = (
    "types.void(types.CPointer(types.float64), types.CPointer(types.float64), "
    "types.int64, types.float64)"
)


@dataclass(frozen=True, slots=True)
class Kernel:
    """Addresses of a model's compiled functions (0 where it has no such function).

    law(cells, points, count, width): `count` devices from the address `cells` on. It writes the
    currents, the watts of a seeking terminal and its floor and, unless `width` is 0, the slopes;
    `width` is the signed volts between the two points of a slope. watch(cells, points, count, 0.0)
    writes the signals. `points` is the table of offers of a seeking model.
    """

    law: int
    watch: int
    module: ModuleType


_one_at_a_time = threading.Lock()


class LawTextProblem(Exception):
    """A law uses something that cannot be compiled; the text names model and word."""


def kernel(model: type[Model]) -> Kernel:
    """The compiled kernel of a model, made or taken from the cache folder.

    Raises
    ------
    LawTextProblem
        If the law's text uses a name that kernels cannot carry.
    """
    # Offers are made on several threads: only one of them writes and compiles a kernel.
    with _one_at_a_time:
        return _kernel_of_text(kernel_text(model))


@cache
def kernel_text(model: type[Model]) -> str:
    """The Python text of a model's kernel module."""
    shape = law_shape(model)
    parts = [HEADER.format(model=model.name)]
    names: dict[str, str] = {}
    for name in ("law", "floor", "watch"):
        function = getattr(model, name)
        if function is not None:
            _collect(model, function, names, rename=name)
    parts += names.values()
    for kind, fields in zip(
        "VXDP", (shape.v_fields, shape.x_fields, shape.d_fields, shape.p_fields), strict=True
    ):
        parts.append(f"{kind} = namedtuple({kind!r}, {list(fields)!r})\n")
    parts.append(_law_kernel(shape))
    if model.watch is not None:
        parts.append(_watch_kernel(shape))
    return "\n\n".join(parts)


def is_cached(model: type[Model]) -> bool:
    """True if the kernel's compiled form is already in the cache folder, or it needs none."""
    if model.law is None:
        return True
    path = _path_of(kernel_text(model))
    return path.exists() and any(path.parent.glob(f"__pycache__/{path.stem}.*.nbc"))


# ---- collecting the text --------------------------------------------------------------------


def _collect(
    model: type[Model], function: Callable[..., Any], names: dict[str, str], rename: str = ""
) -> None:
    """Add the text of a function, after the helpers and constants that it uses."""
    own_name = rename or function.__name__
    for used in _global_names(function):
        if used in names or used in HELPERS or used == "np":
            continue
        value = function.__globals__.get(used)
        if getattr(value, "__copperpath_elementwise__", False):
            assert callable(value)
            _collect(model, value, names)
        elif isinstance(value, (int, float)) or _is_float_tuple(value):
            names[used] = f"{used} = {value!r}\n"
        elif not hasattr(builtins, used):
            raise LawTextProblem(
                f"`{own_name}` of model `{model.name}` uses `{used}`; a law may use np, the "
                "helpers of copperpath.plugin_api, module constants that are numbers or tuples of "
                "numbers, and functions marked @elementwise"
            )
    source = textwrap.dedent(inspect.getsource(function))
    body = source[source.index("def ") :]
    body = body.replace(f"def {function.__name__}", f"def {own_name}", 1)
    body = _without_annotations(body)
    names[own_name] = f"@njit(**INNER)\n{body}"


def _global_names(function: Callable[..., Any]) -> list[str]:
    loads = (step for step in dis.get_instructions(function) if step.opname == "LOAD_GLOBAL")
    return list(dict.fromkeys(str(step.argval) for step in loads))


def _is_float_tuple(value: object) -> bool:
    return isinstance(value, tuple) and all(isinstance(item, (int, float)) for item in value)


def _without_annotations(text: str) -> str:
    """The function's text without type annotations and docstring, which kernels cannot carry."""
    tree = ast.parse(text)
    definition = tree.body[0]
    assert isinstance(definition, ast.FunctionDef)
    definition.returns = None
    for argument in definition.args.args:
        argument.annotation = None
    first = definition.body[0]
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
        definition.body = definition.body[1:]
    definition.body = [_plain_assignment(line) for line in definition.body]
    return ast.unparse(tree) + "\n"


def _plain_assignment(line: Any) -> Any:
    if isinstance(line, ast.AnnAssign) and line.value is not None:
        return ast.copy_location(ast.Assign([line.target], line.value, lineno=line.lineno), line)
    return line


# ---- the kernels around it ------------------------------------------------------------------


def _tuple(kind: str, first: int, count: int) -> str:
    """A named tuple read from one device's cells."""
    cells = ", ".join(f"cells[block, {first + place}, lane]" for place in range(count))
    return f"{kind}({cells})"


def _inputs(shape: LawShape) -> list[str]:
    """Lines that read one device's numbers."""
    rows = rows_of(shape)
    return [
        f"v = {_tuple('V', rows.volts, len(shape.v_fields))}",
        f"x = {_tuple('X', rows.states, len(shape.x_fields))}",
        f"d = {_tuple('D', rows.drives, len(shape.d_fields))}",
        f"p = {_tuple('P', rows.parameters, len(shape.p_fields))}",
    ]


def _evaluate(shape: LawShape) -> str:
    """The text of `evaluate`: drives and law at given volts, the offer looked up if seeking."""
    lines = ["@njit(**INNER)", "def evaluate(v, x, d, p, points):"]
    if shape.seek_place >= 0:
        others = "".join(f"d[{place}], " for place in range(len(shape.d_fields) - 1))
        lines.append(f"    d = D({others}offer_at(points, floor(v, x, d, p)))")
    lines.append("    return d, law(v, x, d, p)")
    return "\n".join(lines) + "\n"


def _head(shape: LawShape, name: str) -> list[str]:
    """The first lines of a kernel, down to the number of devices in a block."""
    return [
        f"@cfunc({SIGNATURE}, error_model='numpy', cache=True)",
        f"def {name}(cells_at, points_at, count, width):",
        f"    cells = carray(cells_at, (MOST_BLOCKS, {rows_of(shape).total}, {LANES}))",
        "    points = carray(points_at, 2 * OFFER_POINTS)",
        f"    for block in range((count + {LANES - 1}) // {LANES}):",
        f"        lanes = min(count - {LANES} * block, {LANES})",
    ]


def _currents(shape: LawShape) -> list[str]:
    """Lines that work out and write one device's currents."""
    rows = rows_of(shape)
    lines = [*_inputs(shape), "i = evaluate(v, x, d, p, points)[1]"]
    for row, place in enumerate(_current_places(shape)):
        lines.append(f"cells[block, {rows.amps + row}, lane] = i[{place}]")
    if shape.seek_place >= 0:
        lines.append(f"cells[block, {rows.watts}, lane] = i[{shape.seek_place}]")
        lines.append(f"cells[block, {rows.floor}, lane] = floor(v, x, d, p)")
    return lines


def _slopes(shape: LawShape) -> list[str]:
    """Lines that work out and write the slopes of the same device."""
    count, rows = len(shape.v_fields), rows_of(shape)
    lines = []
    for column in range(count):
        moved = ", ".join(
            f"v[{place}] + width" if place == column else f"v[{place}]" for place in range(count)
        )
        lines.append(f"step = (v[{column}] + width) - v[{column}]")
        lines.append(f"j = evaluate(V({moved}), x, d, p, points)[1]")
        for row, place in enumerate(_current_places(shape)):
            cell = f"cells[block, {rows.slopes + row * count + column}, lane]"
            lines.append(f"{cell} = (j[{place}] - i[{place}]) / step")
    return lines


def _current_places(shape: LawShape) -> list[int]:
    """Where the currents stand in what the law returns."""
    returned = len(shape.v_fields) + (shape.seek_place >= 0)
    return [place for place in range(returned) if place != shape.seek_place]


def _law_kernel(shape: LawShape) -> str:
    lines = [_evaluate(shape), "", *_head(shape, "law_kernel")]
    lines += ["        if width == 0.0:", "            for lane in range(lanes):"]
    lines += _indented(_currents(shape))
    lines += ["        else:", "            for lane in range(lanes):"]
    lines += _indented([*_currents(shape), *_slopes(shape)])
    return "\n".join(lines) + "\n"


def _watch_kernel(shape: LawShape) -> str:
    lines = [*_head(shape, "watch_kernel"), "        for lane in range(lanes):"]
    inner = [*_inputs(shape), "d, i = evaluate(v, x, d, p, points)"]
    inner.append("signals = watch(v, i, x, d, p)")
    first = rows_of(shape).signals
    inner += [
        f"cells[block, {first + place}, lane] = signals[{place}]" for place in range(shape.signals)
    ]
    return "\n".join([*lines, *_indented(inner)]) + "\n"


def _indented(lines: list[str]) -> list[str]:
    return [" " * 16 + line for line in lines]


# ---- files ----------------------------------------------------------------------------------


def _path_of(text: str) -> Path:
    elementwise = Path(__file__).with_name("compiled_elementwise.py").read_text(encoding="utf-8")
    stamp = (
        f"{text}\0{elementwise}\0{numba.__version__}\0{INTERFACE_VERSION}\0{sys.version_info[:2]}"
    )
    return cache_folder() / f"kernel_{hashlib.sha256(stamp.encode()).hexdigest()[:20]}.py"


@cache
def _kernel_of_text(text: str) -> Kernel:
    path = _path_of(text)
    if not path.exists() or path.read_text(encoding="utf-8") != text:
        draft = path.with_suffix(f".{os.getpid()}.draft")
        draft.write_text(text, encoding="utf-8")
        draft.replace(path)
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module
    spec.loader.exec_module(module)
    watch = module.watch_kernel.address if hasattr(module, "watch_kernel") else 0
    return Kernel(module.law_kernel.address, watch, module)
