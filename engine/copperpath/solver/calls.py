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
    typing_context: Any, address: Any, v: Any, x: Any, d: Any, p: Any, points: Any, out: Any
) -> Any:
    """Call the C function at `address` with six pointers to float64, given as integers."""
    signature = types.void(*[types.int64] * 7)

    def generate(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        pointer = ir.IntType(8).as_pointer()
        function_type = ir.FunctionType(ir.VoidType(), [pointer] * 6)
        function = builder.inttoptr(arguments[0], function_type.as_pointer())
        builder.call(function, [builder.inttoptr(part, pointer) for part in arguments[1:]])
        return context.get_dummy_value()

    return signature, generate


call_kernel: Any = _call_kernel
"""Called with the seven numbers alone; the compiler adds the context."""
