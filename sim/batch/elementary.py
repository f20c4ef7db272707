r"""Elementary functions in arithmetic that a compiler turns into vector instructions.

The library's exp and cbrt are calls, one number at a time, and would take most of the time. These have no branches,
tables or calls, so that eight (or four, or two) cells go at once. Importing this module makes compiled code use them
wherever ``sim.cell_laws`` asks for sigmoid, decay or inverse cube root.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Final

import numpy as np
from llvmlite import ir
from numba import types
from numba.extending import intrinsic, overload, register_jitable

from sim import cell_laws

LN2: Final = math.log(2.0)
SAFE: Final = 700.0  # e^700 = 1e304 is still a double
# a whole number n added to this stands, with the exponent's offset of 1023, in the lowest bits of the sum
EXPONENT: Final = 1.5 * 2.0**52 + 1023.0
# the upper half of a double's bits grows like its logarithm; a third of it taken from this gives t^(-1/3) within 4 %
# (the constant that evens out the error from 1 to 8)
CUBE_SEED: Final = 0x553EF0FF
THIRD: Final = 0x55555556  # 2^32 / 3


def _bits_of(_context: Any, _number: Any) -> tuple[Any, Callable[..., Any]]:
    """The 64 bits of a double as a whole number."""
    return types.int64(types.float64), lambda _c, builder, _s, args: builder.bitcast(args[0], ir.IntType(64))


def _double_of(_context: Any, _bits: Any) -> tuple[Any, Callable[..., Any]]:
    """The double that has these 64 bits."""
    return types.float64(types.int64), lambda _c, builder, _s, args: builder.bitcast(args[0], ir.DoubleType())


bits_of: Any = intrinsic(_bits_of)
double_of: Any = intrinsic(_double_of)


@register_jitable
def exponential(t: float) -> Any:
    """e^t within 1e-12, t kept between -700 and 700.

    e^t = 2^n (e^r)^8 with |r| <= ln(2)/16, so that six terms of the series do (few constants, few registers).
    """
    t = min(max(t, -SAFE), SAFE)
    n = np.rint(t * (1.0 / LN2))
    r = t * 0.125 - n * (0.125 * LN2)
    series = 1.0 + r * (1.0 + r * (1.0 / 2.0 + r * (1.0 / 6.0 + r * (1.0 / 24.0 + r * (1.0 / 120.0 + r / 720.0)))))
    square = series * series
    fourth = square * square
    return double_of(bits_of(n + EXPONENT) << 52) * (fourth * fourth)


@register_jitable
def one_over_cube_root(t: float) -> Any:
    """t^(-1/3) within 1e-15 for 1 <= t < 1e300, by a seed and two steps of fourth order."""
    y = double_of((CUBE_SEED - ((bits_of(t) >> 32) * THIRD >> 32)) << 32)
    for _ in range(2):
        r = 1.0 - t * y * y * y
        y = y + y * r * (1.0 / 3.0 + r * (2.0 / 9.0 + r * (14.0 / 81.0)))
    return y


@overload(cell_laws.sigmoid, strict=False)
def _sigmoid(t: Any) -> Callable[[float], float]:
    return lambda t: 1.0 / (1.0 + exponential(-t))


@overload(cell_laws.decay, strict=False)
def _decay(t: Any) -> Callable[[float], float]:
    return lambda t: exponential(-t)


@overload(cell_laws.inverse_cube_root, strict=False)
def _inverse_cube_root(t: Any) -> Callable[[float], float]:
    return lambda t: one_over_cube_root(t)
