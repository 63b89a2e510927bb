"""Functions of NumPy for `Lanes`: what the laws of the loads call.

Exponentials and logarithms by the usual reduction to a small interval and a series there,
within 1e-13 of the true value.
"""

from __future__ import annotations

import math
from itertools import product
from typing import Any, Final

import numpy as np
from llvmlite import ir
from numba import types
from numba.core import cgutils

from loomwright.circuit.fast.lanes import DOUBLES, FLAGS, LANES, WHOLES, let, on_lanes, on_pairs

_EXPONENT_BITS: Final = 52
_LN2_HIGH: Final = 6.93147180369123816490e-01
_LN2_LOW: Final = 1.90821492927058770002e-10
_ROOT_HALF: Final = np.float64(math.sqrt(0.5)).view(np.int64).item()
_LARGEST: Final = 700.0


def _numbers(value: float) -> Any:
    return ir.Constant(DOUBLES, [value] * DOUBLES.count)


def _wholes(value: int) -> Any:
    return ir.Constant(WHOLES, [value] * WHOLES.count)


def _call(builder: Any, name: str, *arguments: Any) -> Any:
    kind = ir.FunctionType(DOUBLES, [DOUBLES] * len(arguments))
    function = cgutils.get_or_insert_function(builder.module, kind, f"llvm.{name}.v8f64")
    return builder.call(function, arguments)


def _series(builder: Any, x: Any, coefficients: list[float]) -> Any:
    """Sum of coefficient n times x^n, two by two, then four by four: nothing waits for long."""
    terms = [_numbers(coefficient) for coefficient in coefficients]
    while len(terms) > 1:
        pairs = zip(terms[::2], terms[1::2], strict=False)
        joined = [_call(builder, "fma", high, x, low) for low, high in pairs]
        terms = joined + terms[len(terms) - len(terms) % 2 :]
        x = builder.fmul(x, x)
    return terms[0]


def _exp(builder: Any, x: Any) -> Any:
    """2^n e^r, with n whole and |r| <= ln 2 / 2."""
    x = _call(builder, "maxnum", x, _numbers(-_LARGEST))
    x = _call(builder, "minnum", x, _numbers(_LARGEST))
    n = _call(builder, "rint", builder.fmul(x, _numbers(1.0 / math.log(2.0))))
    r = _call(builder, "fma", n, _numbers(-_LN2_HIGH), x)
    r = _call(builder, "fma", n, _numbers(-_LN2_LOW), r)
    series = _series(builder, r, [1.0 / math.factorial(k) for k in range(12)])
    power = builder.shl(builder.fptosi(n, WHOLES), _wholes(_EXPONENT_BITS))
    scaled = builder.add(builder.bitcast(series, WHOLES), power)
    return builder.bitcast(scaled, DOUBLES)


def _log(builder: Any, x: Any) -> Any:
    """Sum of n ln 2 and ln m, m from sqrt(1/2) to sqrt(2); ln m = 2 artanh((m - 1)/(m + 1))."""
    as_whole = builder.bitcast(x, WHOLES)
    n = builder.ashr(builder.sub(as_whole, _wholes(_ROOT_HALF)), _wholes(_EXPONENT_BITS))
    m = builder.bitcast(builder.sub(as_whole, builder.shl(n, _wholes(_EXPONENT_BITS))), DOUBLES)
    z = builder.fdiv(builder.fsub(m, _numbers(1.0)), builder.fadd(m, _numbers(1.0)))
    n = builder.sitofp(n, DOUBLES)
    low = _call(builder, "fma", n, _numbers(_LN2_LOW), _artanh(builder, z, 8))
    return _call(builder, "fma", n, _numbers(_LN2_HIGH), low)


def _log1p(builder: Any, x: Any) -> Any:
    """2 artanh(x/(2 + x)); for x from 0 to 1."""
    z = builder.fdiv(x, builder.fadd(x, _numbers(2.0)))
    return _artanh(builder, z, 13)


def _artanh(builder: Any, z: Any, terms: int) -> Any:
    """Twice the area hyperbolic tangent: 2 (z + z^3/3 + z^5/5 ...)."""
    series = _series(builder, builder.fmul(z, z), [2.0 / (2 * k + 1) for k in range(terms)])
    return builder.fmul(z, series)


def let_numpy_take_lanes() -> None:
    """Let compiled code call the functions of NumPy that `forms` calls with lanes."""
    on_lanes(np.exp, LANES, _exp)
    on_lanes(np.log, LANES, _log)
    on_lanes(np.log1p, LANES, _log1p)
    on_lanes(np.sqrt, LANES, lambda builder, x: _call(builder, "sqrt", x))
    on_lanes(np.abs, LANES, lambda builder, x: _call(builder, "fabs", x))
    on_pairs(np.maximum, LANES, lambda builder, x, y: _call(builder, "maxnum", x, y))
    on_pairs(np.minimum, LANES, lambda builder, x, y: _call(builder, "minnum", x, y))
    let(
        np.where,
        LANES,
        [(FLAGS, *pair) for pair in product((LANES, types.float64), repeat=2)],
        lambda builder, flags, x, y: builder.select(flags, x, y),
    )
