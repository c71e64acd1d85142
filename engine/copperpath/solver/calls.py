"""Calling a kernel through its address from compiled code.

The address is data, so the loop that uses this is compiled once, whatever the station.
"""

from __future__ import annotations

from typing import Any

from llvmlite import ir
from numba import types
from numba.extending import intrinsic


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


call_kernel: Any = _call_kernel
"""Called with the five numbers alone; the compiler adds the context."""
