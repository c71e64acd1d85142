"""Calling a function through its address from compiled code.

A kernel's address is data, so the loop that uses it is compiled once, whatever the station. Parts
of the solver are called so too: numba puts into a caller all that stands beneath it and optimises
it there anew, and a part that four callers share would be compiled four times.
"""

from __future__ import annotations

from typing import Any

import numba.np.arrayobj
from llvmlite import ir
from numba import types
from numba.extending import intrinsic

# numba tells a type checker half of this.
arrays: Any = numba.np.arrayobj


@intrinsic
def _call_kernel(
    typing_context: Any, address: Any, cells: Any, points: Any, count: Any, width: Any
) -> Any:
    """Call the C function at `address` with two pointers to float64, given as integers, the number
    of devices, and the width of a slope [V]."""
    signature = types.void(*[types.int64] * 4, types.float64)

    def generate(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        pointer = ir.IntType(8).as_pointer()
        kinds = [pointer, pointer, ir.IntType(64), ir.DoubleType()]
        function_type = ir.FunctionType(ir.VoidType(), kinds)
        function = builder.inttoptr(arguments[0], function_type.as_pointer())
        pointers = [builder.inttoptr(part, pointer) for part in arguments[1:3]]
        builder.call(function, [*pointers, *arguments[3:]])
        return context.get_dummy_value()

    return signature, generate


@intrinsic
def _call_part(typing_context: Any, address: Any, given: Any) -> Any:
    """Call the C function at `address` with the members of the tuple `given`; a whole number."""
    signature = types.int64(types.int64, given)

    def generate(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        values = [builder.extract_value(arguments[1], k) for k in range(len(given))]
        function_type = ir.FunctionType(ir.IntType(64), [value.type for value in values])
        function = builder.inttoptr(arguments[0], function_type.as_pointer())
        return builder.call(function, values)

    return signature, generate


@intrinsic
def _floats_at(typing_context: Any, address: Any, count: Any) -> Any:
    """The `count` float64 that stand at `address`, as an array."""
    made = types.Array(types.float64, 1, "C")

    def generate(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        filled = context.make_array(made)(context, builder)
        arrays.populate_array(
            filled,
            data=builder.inttoptr(arguments[0], ir.DoubleType().as_pointer()),
            shape=[arguments[1]],
            strides=[ir.Constant(ir.IntType(64), 8)],
            itemsize=8,
            meminfo=None,
        )
        return filled._getvalue()

    return made(types.int64, types.int64), generate


# They are called without the context, which the compiler adds.
call_kernel: Any = _call_kernel
call_part: Any = _call_part
floats_at: Any = _floats_at
