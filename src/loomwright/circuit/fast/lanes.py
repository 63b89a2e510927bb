"""Eight numbers in one register, one for each of eight cases: a type for numba.

In compiled code `Lanes` behave as a float does: ``a * b + 1.0``, ``x >= 0.0``, ``-x``. A
comparison gives `Flags`, a yes or no for each case, to be combined with ``&`` and ``|``. The
processor works on all eight at once where it can (AVX-512), or on four or two at a time.

The compiler would not find this by itself: in a plain loop over eight cases it cannot know
that the rows of a workspace never overlap.

`Lanes` come in two widths. A row of the workspace is eight; the laws of the loads take two rows
at a time, sixteen. In a law each operation waits for the one before: with two loads under way
there is always something to do.
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

WIDTH: Final = 8
"""Cases in a register."""

DOUBLES: Final = ir.VectorType(ir.DoubleType(), WIDTH)
TWO_ROWS: Final = ir.VectorType(ir.DoubleType(), 2 * WIDTH)

FUSED: Final = ("contract",)
"""A product and the sum it goes into may be rounded once instead of twice."""


class LanesType(types.Type):
    """Eight doubles."""


class FlagsType(types.Type):
    """Eight bits."""


class TwoLanesType(types.Type):
    """Sixteen doubles."""


class TwoFlagsType(types.Type):
    """Sixteen bits."""


LANES: Final = LanesType(name="Lanes")
FLAGS: Final = FlagsType(name="Flags")
TWO_LANES: Final = TwoLanesType(name="TwoLanes")
TWO_FLAGS: Final = TwoFlagsType(name="TwoFlags")

FLAGS_OF: Final = {LANES: FLAGS, TWO_LANES: TWO_FLAGS}


def _let_be(kind: type, number: Any, width: int) -> None:
    """Let values of a type be so many numbers in a register."""

    @register_model(kind)
    class _Model(models.PrimitiveModel):
        def __init__(self, manager: Any, of: Any) -> None:
            super().__init__(manager, of, ir.VectorType(number, width))


_let_be(LanesType, ir.DoubleType(), WIDTH)
_let_be(FlagsType, ir.IntType(1), WIDTH)
_let_be(TwoLanesType, ir.DoubleType(), 2 * WIDTH)
_let_be(TwoFlagsType, ir.IntType(1), 2 * WIDTH)


def spread(builder: Any, number: Any, doubles: Any = DOUBLES) -> Any:
    """Emit as many times the same number as a register holds."""
    none = ir.Constant(doubles, ir.Undefined)
    first = builder.insert_element(none, number, ir.IntType(32)(0))
    everywhere = ir.VectorType(ir.IntType(32), doubles.count)([0] * doubles.count)
    return builder.shuffle_vector(first, none, everywhere)


Emit = Callable[..., Any]
"""Writes the instructions of an operation: takes the builder, then the arguments."""


def on_lanes(operation: Any, emit: Emit) -> None:
    """Let an operation take lanes and give lanes."""
    for kind in FLAGS_OF:
        let(operation, kind, ((kind,),), emit)


def on_pairs(operation: Any, emit: Emit, *, gives_flags: bool = False) -> None:
    """Let an operation take lanes and lanes, or lanes and a float."""
    floats = types.float64
    for kind, flags in FLAGS_OF.items():
        takes = ((kind, kind), (kind, floats), (floats, kind))
        let(operation, flags if gives_flags else kind, takes, emit)


def let(operation: Any, gives: Any, takes: Sequence[tuple[Any, ...]], emit: Emit) -> None:
    """Let an operation take arguments of certain kinds; floats are spread over the lanes."""

    class _Template(ConcreteTemplate):
        cases = tuple(signature(gives, *kinds) for kinds in takes)

    infer_global(operation)(_Template)

    def lower(_: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        count = next(x.type.count for x in arguments if isinstance(x.type, ir.VectorType))
        doubles = ir.VectorType(ir.DoubleType(), count)
        kinds = zip(arguments, signature_.args, strict=True)
        floats = types.float64
        lanes = (spread(builder, x, doubles) if t == floats else x for x, t in kinds)
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
    on_pairs(_operation, _compared(_sign), gives_flags=True)
for _flags in FLAGS_OF.values():
    let(operator.and_, _flags, ((_flags, _flags),), lambda builder, a, b: builder.and_(a, b))
    let(operator.or_, _flags, ((_flags, _flags),), lambda builder, a, b: builder.or_(a, b))


def _place(
    context: Any, builder: Any, kind: Any, arguments: Any, doubles: ir.VectorType = DOUBLES
) -> Any:
    array, row = arguments
    data = cgutils.create_struct_proxy(kind)(context, builder, value=array).data
    first = builder.mul(row, row.type(WIDTH))
    return builder.bitcast(builder.gep(data, [first]), doubles.as_pointer())


@intrinsic
def load(_: Any, table: Any, row: Any) -> Any:
    """Lanes of a row of a flat table of float64, eight to a row."""

    def emit(context: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        place = _place(context, builder, signature_.args[0], arguments)
        return builder.load(place, align=8)

    return LANES(table, row), emit


@intrinsic
def load_two(_: Any, table: Any, row: Any) -> Any:
    """Lanes of a row and of the next."""

    def emit(context: Any, builder: Any, signature_: Any, arguments: Any) -> Any:
        place = _place(context, builder, signature_.args[0], arguments, TWO_ROWS)
        return builder.load(place, align=8)

    return TWO_LANES(table, row), emit


def _half(builder: Any, sixteen: Any, first: int) -> Any:
    lanes = ir.VectorType(ir.IntType(32), WIDTH)(list(range(first, first + WIDTH)))
    return builder.shuffle_vector(sixteen, ir.Constant(TWO_ROWS, ir.Undefined), lanes)


@intrinsic
def former(_: Any, two: Any) -> Any:
    """Lanes of the first of two rows."""
    return LANES(two), lambda _c, builder, _s, arguments: _half(builder, arguments[0], 0)


@intrinsic
def latter(_: Any, two: Any) -> Any:
    """Lanes of the second of two rows."""
    return LANES(two), lambda _c, builder, _s, arguments: _half(builder, arguments[0], WIDTH)


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
    """Eight times the same number."""

    def emit(__: Any, builder: Any, ___: Any, arguments: Any) -> Any:
        return spread(builder, arguments[0])

    return LANES(types.float64), emit


@intrinsic
def bits(_: Any, flags: Any) -> Any:
    """Flags as a whole number, bit n for case n."""

    def emit(__: Any, builder: Any, ___: Any, arguments: Any) -> Any:
        byte = builder.bitcast(arguments[0], ir.IntType(WIDTH))
        return builder.zext(byte, ir.IntType(64))

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
        eight, lane = arguments
        return builder.extract_element(eight, lane)

    return types.float64(lanes, lane), emit


@njit(inline="always")
def add(table: Any, row: Any, lanes: Any) -> None:
    """Add lanes to a row."""
    store(table, row, load(table, row) + lanes)


@njit(inline="always")
def take(table: Any, row: Any, lanes: Any) -> None:
    """Take lanes from a row."""
    store(table, row, load(table, row) - lanes)
