"""Functions of NumPy for `Lanes`: what the laws of the loads call.

Exponentials and logarithms by the usual reduction to a small interval and a polynomial there,
within 5e-12 of the true value.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import product
from typing import Any, Final

import numpy as np
from llvmlite import ir
from numba import types
from numba.core import cgutils
from numpy.polynomial import Chebyshev, Polynomial

from loomwright.circuit.batch import Floats
from loomwright.circuit.fast.lanes import FLAGS, LANES, let, on_lanes, on_pairs

_EXPONENT_BITS: Final = 52
_LN2_HIGH: Final = 6.93147180369123816490e-01
_LN2_LOW: Final = 1.90821492927058770002e-10
_ROOT_HALF: Final = np.float64(math.sqrt(0.5)).view(np.int64).item()
_LARGEST: Final = 700.0

_WHOLE: Final = 1.5 * 2.0**_EXPONENT_BITS
"""Added to this, a number stands as a whole one in the last bits of the sum. Processors without
AVX-512 turn lanes into whole numbers and back one by one; adding is done at once."""

_TWO_52: Final = np.float64(2.0**_EXPONENT_BITS).view(np.int64).item()
_BIAS: Final = 1024
"""Makes any exponent positive."""


def _fitted(of: Callable[[Floats], Floats], low: float, high: float, terms: int) -> list[float]:
    """Coefficients of a polynomial that meets a function in as many Chebyshev points.

    It is as near everywhere in its interval as a Taylor series is with two terms more.
    """
    met = Chebyshev.interpolate(of, terms - 1, domain=[low, high])
    return [float(each) for each in met.convert(kind=Polynomial).coef]


def _artanh_over_root(square: Floats) -> Floats:
    """2 artanh(z)/z, from z^2 above 0."""
    z = np.sqrt(square)
    return np.asarray(2.0 * np.arctanh(z) / z)


_HALF_LN2: Final = 0.5 * math.log(2.0)
_EXP: Final = _fitted(np.exp, -_HALF_LN2, _HALF_LN2, 9)
_ARTANH_TO_LOG: Final = _fitted(_artanh_over_root, 0.0, (3.0 - math.sqrt(8.0)) ** 2, 5)
_ARTANH_TO_LOG1P: Final = _fitted(_artanh_over_root, 0.0, 1.0 / 9.0, 7)


def _numbers(like: Any, value: float) -> Any:
    return ir.Constant(like.type, [value] * like.type.count)


def _wholes(like: Any, value: int) -> Any:
    return ir.Constant(_whole(like), [value] * like.type.count)


def _whole(like: Any) -> Any:
    return ir.VectorType(ir.IntType(64), like.type.count)


def _call(builder: Any, name: str, *arguments: Any) -> Any:
    doubles = arguments[0].type
    kind = ir.FunctionType(doubles, [doubles] * len(arguments))
    full_name = f"llvm.{name}.v{doubles.count}f64"
    function = cgutils.get_or_insert_function(builder.module, kind, full_name)
    return builder.call(function, arguments)


def _series(builder: Any, x: Any, coefficients: list[float]) -> Any:
    """Sum of coefficient n times x^n, two by two, then four by four: nothing waits for long."""
    terms = [_numbers(x, coefficient) for coefficient in coefficients]
    while len(terms) > 1:
        pairs = zip(terms[::2], terms[1::2], strict=False)
        joined = [_call(builder, "fma", high, x, low) for low, high in pairs]
        terms = joined + terms[len(terms) - len(terms) % 2 :]
        x = builder.fmul(x, x)
    return terms[0]


def _exp(builder: Any, x: Any) -> Any:
    """2^n e^r, with n whole and |r| <= ln 2 / 2; for x up to 700."""
    x = _call(builder, "maxnum", x, _numbers(x, -_LARGEST))
    shifted = _call(builder, "fma", x, _numbers(x, 1.0 / math.log(2.0)), _numbers(x, _WHOLE))
    n = builder.fsub(shifted, _numbers(x, _WHOLE))
    r = _call(builder, "fma", n, _numbers(x, -_LN2_HIGH), x)
    r = _call(builder, "fma", n, _numbers(x, -_LN2_LOW), r)
    series = _series(builder, r, _EXP)
    bits = builder.bitcast(shifted, _whole(x))
    power = builder.shl(bits, _wholes(x, _EXPONENT_BITS))
    scaled = builder.add(builder.bitcast(series, _whole(x)), power)
    return builder.bitcast(scaled, x.type)


def _log(builder: Any, x: Any) -> Any:
    """Sum of n ln 2 and ln m, m from sqrt(1/2) to sqrt(2); ln m = 2 artanh((m - 1)/(m + 1))."""
    bits = builder.bitcast(x, _whole(x))
    moved = builder.add(bits, _wholes(x, (_BIAS << _EXPONENT_BITS) - _ROOT_HALF))
    n = builder.lshr(moved, _wholes(x, _EXPONENT_BITS))
    beyond = builder.and_(moved, _wholes(x, (1 << _EXPONENT_BITS) - 1))
    m = builder.bitcast(builder.add(beyond, _wholes(x, _ROOT_HALF)), x.type)
    z = builder.fdiv(builder.fsub(m, _numbers(x, 1.0)), builder.fadd(m, _numbers(x, 1.0)))
    n = builder.bitcast(builder.or_(n, _wholes(x, _TWO_52)), x.type)
    n = builder.fsub(n, _numbers(x, 2.0**_EXPONENT_BITS + _BIAS))
    low = _call(builder, "fma", n, _numbers(x, _LN2_LOW), _artanh(builder, z, _ARTANH_TO_LOG))
    return _call(builder, "fma", n, _numbers(x, _LN2_HIGH), low)


def _log1p(builder: Any, x: Any) -> Any:
    """2 artanh(x/(2 + x)); for x from 0 to 1."""
    z = builder.fdiv(x, builder.fadd(x, _numbers(x, 2.0)))
    return _artanh(builder, z, _ARTANH_TO_LOG1P)


def _artanh(builder: Any, z: Any, coefficients: list[float]) -> Any:
    """Twice the area hyperbolic tangent: z times a series in z^2."""
    series = _series(builder, builder.fmul(z, z), coefficients)
    return builder.fmul(z, series)


def let_numpy_take_lanes() -> None:
    """Let compiled code call the functions of NumPy that `forms` calls with lanes."""
    on_lanes(np.exp, _exp)
    on_lanes(np.log, _log)
    on_lanes(np.log1p, _log1p)
    on_lanes(np.sqrt, lambda builder, x: _call(builder, "sqrt", x))
    on_lanes(np.abs, lambda builder, x: _call(builder, "fabs", x))
    on_pairs(np.maximum, lambda builder, x, y: _call(builder, "maxnum", x, y))
    on_pairs(np.minimum, lambda builder, x, y: _call(builder, "minnum", x, y))
    takes = [(FLAGS, *pair) for pair in product((LANES, types.float64), repeat=2)]
    let(np.where, LANES, takes, lambda builder, flags, x, y: builder.select(flags, x, y))
