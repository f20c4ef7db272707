r"""Elementary functions in arithmetic that a compiler turns into vector instructions.

The library's exp and cbrt are calls, one number at a time, and would take most of the time. These have no branches,
tables or calls, so that eight (or four, or two) cells go at once, and twice as many in single precision. Importing
this module makes compiled code use them wherever ``sim.cell_laws`` asks for sigmoid, decay or inverse cube root.
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
from sim.batch.precision import in_single

LN2: Final = math.log(2.0)
SAFE: Final = 700.0  # e^700 = 1e304 is still a double
SAFE_SINGLE: Final = 87.0  # and e^87 = 6e37 a single
BITS: Final = {types.float64: (64, 52, 1023), types.float32: (32, 23, 127)}  # in all, of fraction, exponent's offset
# the upper half of a double's bits, or all of a single's, grow like its logarithm; a third of them taken from this
# gives t^(-1/3) within 4 % (the constant that evens out the error from 1 to 8)
CUBE_SEED: Final = 0x553EF0FF
CUBE_SEED_SINGLE: Final = 0x54A232A2
THIRD: Final = 0x55555556  # 2^32 / 3


def _power_of_two(_context: Any, number: Any) -> tuple[Any, Callable[..., Any]]:
    """2^n in the precision of a whole number n of moderate size."""
    bits, fraction, offset = BITS[number]

    def built(context: Any, builder: Any, _signature: Any, given: Any) -> Any:
        # n and this added keep n and the exponent's offset in the lowest bits of the sum
        real, word = context.get_value_type(number), ir.IntType(bits)
        kept = builder.fadd(given[0], ir.Constant(real, 1.5 * 2.0**fraction + offset))
        shifted = builder.shl(builder.bitcast(kept, word), ir.Constant(word, fraction))
        return builder.bitcast(shifted, real)

    return number(number), built


def _cube_seed(_context: Any, number: Any) -> tuple[Any, Callable[..., Any]]:
    """t^(-1/3) within 4 %, for t >= 1."""

    def built(_c: Any, builder: Any, _signature: Any, given: Any) -> Any:
        word, half = ir.IntType(64), ir.Constant(ir.IntType(64), 32)
        high = builder.lshr(builder.bitcast(given[0], word), half)
        third = builder.lshr(builder.mul(high, ir.Constant(word, THIRD)), half)
        seed = builder.shl(builder.sub(ir.Constant(word, CUBE_SEED), third), half)
        return builder.bitcast(seed, ir.DoubleType())

    def built_single(_c: Any, builder: Any, _signature: Any, given: Any) -> Any:
        word, real = ir.IntType(32), ir.FloatType()
        bits = builder.sitofp(builder.bitcast(given[0], word), real)
        third = builder.fptosi(builder.fmul(bits, ir.Constant(real, 1.0 / 3.0)), word)
        return builder.bitcast(builder.sub(ir.Constant(word, CUBE_SEED_SINGLE), third), real)

    return number(number), built_single if number == types.float32 else built


power_of_two: Any = intrinsic(_power_of_two)
cube_seed: Any = intrinsic(_cube_seed)


@register_jitable
def near_one(r: float) -> Any:
    """e^r within 7e-14 for |r| <= ln(2)/16: six terms of the series (few constants, few registers)."""
    return 1.0 + r * (1.0 + r * (1.0 / 2.0 + r * (1.0 / 6.0 + r * (1.0 / 24.0 + r * (1.0 / 120.0 + r / 720.0)))))


def _near_one_roughly(r: float) -> Any:
    """The same within 2e-9: four terms, all that single precision can tell."""
    return 1.0 + r * (1.0 + r * (1.0 / 2.0 + r * (1.0 / 6.0 + r / 24.0)))


@register_jitable
def exponential(t: float) -> Any:
    """e^t = 2^n (e^r)^8 within 1e-12, t kept between -700 and 700."""
    t = min(max(t, -SAFE), SAFE)
    n = np.rint(t * (1.0 / LN2))
    r = t * 0.125 - n * (0.125 * LN2)
    eighth = near_one(r)
    square = eighth * eighth
    fourth = square * square
    return power_of_two(n) * (fourth * fourth)


@register_jitable
def one_over_cube_root(t: float) -> Any:
    """t^(-1/3) within 1e-15 for 1 <= t < 1e300, by a seed and two steps of fourth order."""
    y = cube_seed(t)
    for _ in range(2):
        r = 1.0 - t * y * y * y
        y = y + y * r * (1.0 / 3.0 + r * (2.0 / 9.0 + r * (14.0 / 81.0)))
    return y


@register_jitable
def sigmoid(t: float) -> Any:
    """1 / (1 + e^-t), as near."""
    return 1.0 / (1.0 + exponential(-t))


@register_jitable
def decay(t: float) -> Any:
    """e^-t, as near."""
    return exponential(-t)


(_in_single,) = in_single(_near_one_roughly)
_, one_over_cube_root_in_single, sigmoid_in_single, decay_in_single = in_single(
    exponential, one_over_cube_root, sigmoid, decay, SAFE=SAFE_SINGLE, near_one=_in_single
)


def _swapped(asked: Any, double: Any, single: Any) -> None:
    """Let compiled code use ``double`` or ``single``, by its number's precision, wherever ``asked`` is called."""
    overload(asked, strict=False)(lambda t: single if t == types.float32 else double)


_swapped(cell_laws.sigmoid, sigmoid, sigmoid_in_single)
_swapped(cell_laws.decay, decay, decay_in_single)
_swapped(cell_laws.inverse_cube_root, one_over_cube_root, one_over_cube_root_in_single)
