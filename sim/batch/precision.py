"""The same formulas in single precision, of which a processor works out twice as many at once."""

from __future__ import annotations

from collections.abc import Callable
from types import FunctionType
from typing import Any

import numpy as np
from numba.extending import register_jitable


def in_single(*formulas: Callable[..., Any], **other: Any) -> tuple[Any, ...]:
    """Formulas for compiled loops over single numbers, which one double constant would take out of single precision.

    Each calls the like form of those before it. other : what a name stands for instead.
    """
    made: dict[str, Any] = {}
    for formula in formulas:
        code: Any = formula.__code__
        names = formula.__globals__ | other
        known = {name: _single(value) for name, value in names.items()} | made
        constants = tuple(map(_single, code.co_consts))
        copy = FunctionType(code.replace(co_consts=constants), known, f"{formula.__name__}_in_single")
        made[formula.__name__] = register_jitable(copy)
    return tuple(made.values())


def _single(value: Any) -> Any:
    return np.float32(value) if isinstance(value, float) else value
