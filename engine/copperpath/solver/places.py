"""Arrays under one address: what compiled code is handed in place of thirty arrays.

numba hands an array on as seven numbers, and compiles and counts references for each of them anew
in every function. A `Places` is one number there: the address of a table with the address and the
size of each of its arrays. They are read where they are used.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import Any

import numba.core.cgutils
import numba.core.typing.templates
import numba.extending
import numba.np.arrayobj
import numba.np.numpy_support
import numpy as np
from llvmlite import ir
from numba import types

# numba tells a type checker nothing, or half, of these.
extending: Any = numba.extending
templates: Any = numba.core.typing.templates
cgutils: Any = numba.core.cgutils
arrays: Any = numba.np.arrayobj
kinds: Any = numba.np.numpy_support

WORDS = 4
"""Words of the table for a field: address or whole number, and the lengths of up to three axes."""

_WORD, _POINTER = ir.IntType(64), ir.IntType(8).as_pointer()


def whole() -> Any:
    """A field that is a whole number."""
    return field(metadata={"kind": None})


def array(kind: Any, axes: int = 1) -> Any:
    """A field that is an array of this kind, its elements in order of the axes."""
    return field(metadata={"kind": np.dtype(kind), "axes": axes})


@dataclass(frozen=True, eq=False)
class Places:
    """Fields are told by `whole` and `array`. Whoever hands one on to compiled code keeps it; its
    arrays are read and written in place and never exchanged for others."""

    table: np.ndarray = field(init=False, repr=False)

    def __post_init__(self) -> None:
        rows = np.zeros((len(fields(self)) - 1, WORDS), dtype=np.int64)
        for row, part in zip(rows, fields(self)[1:], strict=True):
            value, kind = getattr(self, part.name), part.metadata["kind"]
            if kind is None:
                row[0] = value
                continue
            assert value.dtype == kind, part.name
            assert value.ndim == part.metadata["axes"], part.name
            assert value.flags.c_contiguous, part.name
            row[0] = value.ctypes.data
            row[1 : 1 + value.ndim] = value.shape
        object.__setattr__(self, "table", rows)

    @property
    def address(self) -> int:
        """Where the table stands."""
        return int(self.table.ctypes.data)

    def parts(self) -> list[Any]:
        """The fields' values."""
        return [getattr(self, part.name) for part in fields(self)[1:]]


class PlacesType(types.Type):
    """A `Places` as numba knows it."""

    def __init__(self, owner: type[Places]) -> None:
        self.owner = owner
        super().__init__(name=f"{owner.__module__}.{owner.__qualname__}")

    def found(self, name: str) -> tuple[int, Any] | None:
        """A field's row in the table and what it is to numba; None if there is no such field."""
        for row, part in enumerate(fields(self.owner)[1:]):
            if part.name == name:
                kind = part.metadata["kind"]
                if kind is None:
                    return row, types.int64
                made = kinds.from_dtype(kind)
                return row, types.Array(made, part.metadata["axes"], "C")
        return None


def _type_of(value: Places, context: Any) -> PlacesType:
    return PlacesType(type(value))


def _from_python(kind: PlacesType, thing: Any, c: Any) -> Any:
    address = c.pyapi.object_getattr_string(thing, "address")
    pointer = c.builder.inttoptr(c.pyapi.long_as_longlong(address), _POINTER)
    c.pyapi.decref(address)
    return extending.NativeValue(pointer, cgutils.is_not_null(c.builder, c.pyapi.err_occurred()))


def _type_of_field(template: Any, kind: PlacesType, name: str) -> Any:
    found = kind.found(name)
    return None if found is None else found[1]


def _read_field(context: Any, builder: Any, kind: PlacesType, value: Any, name: str) -> Any:
    found = kind.found(name)
    assert found is not None
    row, made = found
    table = builder.bitcast(value, _WORD.as_pointer())

    def word(place: int) -> Any:
        at = builder.gep(table, [ir.Constant(_WORD, WORDS * row + place)])
        loaded = builder.load(at)
        # The table never changes, whatever is written elsewhere.
        loaded.set_metadata("invariant.load", builder.module.add_metadata([]))
        return loaded

    if made == types.int64:
        return word(0)
    data_type = context.get_data_type(made.dtype)
    size = context.get_abi_sizeof(data_type)
    shape = [word(1 + axis) for axis in range(made.ndim)]
    strides: list[Any] = []
    count = ir.Constant(_WORD, 1)
    for length in reversed(shape):
        strides.insert(0, builder.mul(count, ir.Constant(_WORD, size)))
        count = builder.mul(count, length)
    filled = context.make_array(made)(context, builder)
    arrays.populate_array(
        filled,
        data=builder.inttoptr(word(0), data_type.as_pointer()),
        shape=shape,
        strides=strides,
        itemsize=size,
        meminfo=None,
    )
    return filled._getvalue()


extending.register_model(PlacesType)(extending.models.OpaqueModel)
extending.typeof_impl.register(Places)(_type_of)
extending.unbox(PlacesType)(_from_python)
extending.lower_getattr_generic(PlacesType)(_read_field)
_template = {"key": PlacesType, "generic_resolve": _type_of_field}
extending.infer_getattr(type("_Fields", (templates.AttributeTemplate,), _template))
