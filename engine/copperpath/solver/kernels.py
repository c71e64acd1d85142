"""From a model's own text to compiled kernels, kept in the user's cache folder.

Each kernel is a generated file named by a hash of its text and of the numba and interface
versions. The kernel returns a law's currents and their slopes (one-sided differences), so that the
time loop calls each device once an iteration through an address and knows no model.
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
'''

SIGNATURE = "types.void(*[types.CPointer(types.float64)] * 6)"


@dataclass(frozen=True, slots=True)
class Kernel:
    """Addresses of a model's compiled functions (0 where it has no such function).

    law(v, x, d, p, points, out): out[0] holds the signed volts between the two points of a slope;
    it comes back with the currents, then the watts of a seeking terminal (or 0), then the slopes
    row by row. watch writes the signals.
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
    names[own_name] = f'@njit(error_model="numpy")\n{body}'


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


def _tuples(shape: LawShape, offer: str) -> str:
    """Lines that fill x, d, p from their arrays, with `offer` as the last drive if seeking."""
    drives = [f"ds[{place}]" for place in range(len(shape.d_fields))]
    if shape.seek_place >= 0:
        drives[-1] = offer
    states = ", ".join(f"xs[{place}]" for place in range(len(shape.x_fields)))
    parameters = ", ".join(f"ps[{place}]" for place in range(len(shape.p_fields)))
    return f"X({states}), D({', '.join(drives)}), P({parameters})"


def _views(shape: LawShape) -> str:
    return textwrap.indent(
        f"vs = carray(vp, {max(len(shape.v_fields), 1)})\n"
        f"xs = carray(xp, {max(len(shape.x_fields), 1)})\n"
        f"ds = carray(dp, {max(len(shape.d_fields), 1)})\n"
        f"ps = carray(pp, {max(len(shape.p_fields), 1)})\n"
        f"points = carray(tp, 2 * OFFER_POINTS)\n",
        "    ",
    )


def _evaluate(shape: LawShape) -> str:
    """The text of `evaluate`: the law at given volts, with the offer looked up if seeking."""
    volts = ", ".join(f"v{place}" for place in range(len(shape.v_fields)))
    lines = [
        '@njit(error_model="numpy")',
        f"def evaluate({volts}, xs, ds, ps, points):",
        f"    v = V({volts})",
    ]
    if shape.seek_place >= 0:
        lines.append(f"    x, d, p = {_tuples(shape, '0.0')}")
        lines.append("    offer = offer_at(points, floor(v, x, d, p))")
        lines.append(f"    x, d, p = {_tuples(shape, 'offer')}")
    else:
        lines.append(f"    x, d, p = {_tuples(shape, '0.0')}")
    lines.append("    return v, x, d, p, law(v, x, d, p)")
    return "\n".join(lines) + "\n"


def _law_kernel(shape: LawShape) -> str:
    count = len(shape.v_fields)
    places = [
        place for place in range(count + (shape.seek_place >= 0)) if place != shape.seek_place
    ]
    lines = [_evaluate(shape), "", f"@cfunc({SIGNATURE}, error_model='numpy', cache=True)"]
    lines.append("def law_kernel(vp, xp, dp, pp, tp, outp):")
    lines.append(_views(shape).rstrip())
    lines.append(f"    out = carray(outp, {count + 1 + count * count})")
    volts = [f"vs[{place}]" for place in range(count)]
    lines.append("    width = out[0]")
    lines.append(f"    i = evaluate({', '.join(volts)}, xs, ds, ps, points)[4]")
    for row, place in enumerate(places):
        lines.append(f"    out[{row}] = i[{place}]")
    watts = f"i[{shape.seek_place}]" if shape.seek_place >= 0 else "0.0"
    lines.append(f"    out[{count}] = {watts}")
    for column in range(count):
        shifted = list(volts)
        shifted[column] += " + width"
        lines.append(f"    j = evaluate({', '.join(shifted)}, xs, ds, ps, points)[4]")
        lines.append(f"    step = (vs[{column}] + width) - vs[{column}]")
        for row, place in enumerate(places):
            entry = count + 1 + row * count + column
            lines.append(f"    out[{entry}] = (j[{place}] - i[{place}]) / step")
    return "\n".join(lines) + "\n"


def _watch_kernel(shape: LawShape) -> str:
    volts = ", ".join(f"vs[{place}]" for place in range(len(shape.v_fields)))
    lines = [
        f"@cfunc({SIGNATURE}, error_model='numpy', cache=True)",
        "def watch_kernel(vp, xp, dp, pp, tp, outp):",
        _views(shape).rstrip(),
        f"    out = carray(outp, {max(shape.signals, 1)})",
        f"    v, x, d, p, i = evaluate({volts}, xs, ds, ps, points)",
        "    signals = watch(v, i, x, d, p)",
    ]
    lines += [f"    out[{place}] = signals[{place}]" for place in range(shape.signals)]
    return "\n".join(lines) + "\n"


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
