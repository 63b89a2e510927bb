"""Sixteen numbers side by side, one for each of sixteen cases: a type for numba.

In compiled code `Lanes` behave as a float does: ``a * b + 1.0``, ``x >= 0.0``, ``-x``. A
comparison gives `Flags`, a yes or no for each case, to be combined with ``&`` and ``|``. The
processor works on eight of them at once where it can (AVX-512), or on four or two at a time.

They are twice as many as the widest register holds. Each operation waits for the one before,
above all in the elimination; with two registers under way there is always something to do.

The compiler would not find this by itself: in a plain loop over the cases it cannot know that
the rows of a workspace never overlap.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Sequence
from typing import Any, Final

from llvmlite import ir
from numba import njit, types
from numba.core import cgutils
from numba.core.typing.templates import ConcreteTemplate, infer_global, signature
from numba.extending import intrinsic, lower_builtin, models, register_model

WIDTH: Final = 16
"""Cases that are solved side by side."""

DOUBLES: Final = ir.VectorType(ir.DoubleType(), WIDTH)

FUSED: Final = ("contract",)
"""A product and the sum it goes into may be rounded once instead of twice."""


class LanesType(types.Type):
    """A double for each case."""


class FlagsType(types.Type):
    """A bit for each case."""


LANES: Final = LanesType(name="Lanes")
FLAGS: Final = FlagsType(name="Flags")


def _let_be(kind: type, number: Any) -> None:
    """Let values of a type be numbers side by side."""

    @register_model(kind)
    class _Model(models.PrimitiveModel):
        def __init__(self, manager: Any, of: Any) -> None:
            super().__init__(manager, of, ir.VectorType(number, WIDTH))


_let_be(LanesType, ir.DoubleType())
_let_be(FlagsType, ir.IntType(1))


def spread(builder: Any, number: Any) -> Any:
    """Emit the same number for every case."""
    none = ir.Constant(DOUBLES, ir.Undefined)
    first = builder.insert_element(none, number, ir.IntType(32)(0))
    everywhere = ir.VectorType(ir.IntType(32), WIDTH)([0] * WIDTH)
    return builder.shuffle_vector(first, none, everywhere)


Emit = Callable[..., Any]
"""Writes the instructions of an operation: takes the builder, then the arguments."""


def on_lanes(operation: Any, emit: Emit) -> None:
    """Let an operation take lanes and give lanes."""
    let(operation, LANES, ((LANES,),), emit)


def on_pairs(operation: Any, emit: Emit, *, gives: LanesType | FlagsType = LANES) -> None:
    """Let an operation take lanes and lanes, or lanes and a float."""
    floats = types.float64
    let(operation, gives, ((LANES, LANES), (LANES, floats), (floats, LANES)), emit)


def let(operation: Any, gives: Any, takes: Sequence[tuple[Any, ...]], emit: Emit) -> None:
    """Let an operation take arguments of certain kinds; floats are spread over the lanes."""

    class _Template(ConcreteTemplate):
        cases = tuple(signature(gives, *kinds) for kinds in takes)

    infer_global(operation)(_Template)

    def lower(_: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        kinds = zip(arguments, signature_.args, strict=True)
        lanes = (spread(builder, x) if kind == types.float64 else x for x, kind in kinds)
        return emit(builder, *lanes)

    for kinds in takes:
        lower_builtin(operation, *kinds)(lower)


on_pairs(operator.add, lambda builder, a, b: builder.fadd(a, b, flags=FUSED))
on_pairs(operator.sub, lambda builder, a, b: builder.fsub(a, b, flags=FUSED))
on_pairs(operator.mul, lambda builder, a, b: builder.fmul(a, b, flags=FUSED))
on_pairs(operator.truediv, lambda builder, a, b: builder.fdiv(a, b))
on_lanes(operator.neg, lambda builder, a: builder.fneg(a))


def _compared(sign: str) -> Emit:
    return lambda builder, a, b: builder.fcmp_ordered(sign, a, b)


for _operation, _sign in (
    (operator.gt, ">"),
    (operator.ge, ">="),
    (operator.lt, "<"),
    (operator.le, "<="),
):
    on_pairs(_operation, _compared(_sign), gives=FLAGS)
let(operator.and_, FLAGS, ((FLAGS, FLAGS),), lambda builder, a, b: builder.and_(a, b))
let(operator.or_, FLAGS, ((FLAGS, FLAGS),), lambda builder, a, b: builder.or_(a, b))


def _place(context: Any, builder: Any, kind: Any, arguments: Any) -> Any:
    array, row = arguments
    data = cgutils.create_struct_proxy(kind)(context, builder, value=array).data
    first = builder.mul(row, row.type(WIDTH))
    return builder.bitcast(builder.gep(data, [first]), DOUBLES.as_pointer())


@intrinsic
def load(_: Any, table: Any, row: Any) -> Any:
    """Lanes of a row of a flat table of float64, `WIDTH` to a row."""

    def emit(context: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        place = _place(context, builder, signature_.args[0], arguments)
        return builder.load(place, align=8)

    return LANES(table, row), emit


@intrinsic
def store(_: Any, table: Any, row: Any, lanes: Any) -> Any:
    """Put lanes into a row of a flat table."""

    def emit(context: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        place = _place(context, builder, signature_.args[0], arguments[:2])
        builder.store(arguments[2], place, align=8)
        return context.get_dummy_value()

    return types.void(table, row, lanes), emit


@intrinsic
def all_equal(_: Any, number: Any) -> Any:
    """The same number for every case."""

    def emit(__: Any, builder: Any, ___: Any, arguments: Any) -> Any:
        return spread(builder, arguments[0])

    return LANES(types.float64), emit


@intrinsic
def bits(_: Any, flags: Any) -> Any:
    """Flags as a whole number, bit n for case n."""

    def emit(__: Any, builder: Any, ___: Any, arguments: Any) -> Any:
        whole = builder.bitcast(arguments[0], ir.IntType(WIDTH))
        return builder.zext(whole, ir.IntType(64))

    return types.int64(flags), emit


@intrinsic
def number(_: Any, table: Any, place: Any) -> Any:
    """Number at a place of a flat table of whole numbers; no place counts from the end."""

    def emit(context: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        kind, (array, at) = signature_.args[0], arguments
        data = cgutils.create_struct_proxy(kind)(context, builder, value=array).data
        return builder.load(builder.gep(data, [at]))

    return types.int64(table, place), emit


@intrinsic
def store_at(_: Any, table: Any, row: Any, column: Any, lanes: Any) -> Any:
    """Put lanes into a table of two dimensions, from a column on."""

    def emit(context: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        place = _place_at(context, builder, signature_.args[0], arguments[:3])
        builder.store(arguments[3], place, align=8)
        return context.get_dummy_value()

    return types.void(table, row, column, lanes), emit


@intrinsic
def load_at(_: Any, table: Any, row: Any, column: Any) -> Any:
    """Lanes of a table of two dimensions, from a column on."""

    def emit(context: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        place = _place_at(context, builder, signature_.args[0], arguments)
        return builder.load(place, align=8)

    return LANES(table, row, column), emit


def _place_at(context: Any, builder: Any, kind: Any, arguments: Any) -> Any:
    array, row, column = arguments
    whole = cgutils.create_struct_proxy(kind)(context, builder, value=array)
    columns = builder.extract_value(whole.shape, 1)
    place = builder.gep(whole.data, [builder.add(builder.mul(row, columns), column)])
    return builder.bitcast(place, DOUBLES.as_pointer())


@intrinsic
def pick(_: Any, lanes: Any, lane: Any) -> Any:
    """Number of one lane."""

    def emit(__: Any, builder: Any, ___: Any, arguments: Any) -> Any:
        return builder.extract_element(*arguments)

    return types.float64(lanes, lane), emit


@njit(inline="always")
def add(table: Any, row: Any, lanes: Any) -> None:
    """Add lanes to a row."""
    store(table, row, load(table, row) + lanes)


@njit(inline="always")
def take(table: Any, row: Any, lanes: Any) -> None:
    """Take lanes from a row."""
    store(table, row, load(table, row) - lanes)
