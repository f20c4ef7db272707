"""Round steps of a chart's scale."""

from __future__ import annotations

import numpy as np


def tick_step(greatest: float) -> float:
    """Least of 1, 2, 3, 4, 5, 6, 8 times a power of ten of which five cover ``greatest`` (and 0.02 at least)."""
    wanted = max(greatest, 0.1) / 5.0
    power = 10.0 ** np.floor(np.log10(wanted))
    return float(
        next(m * power for m in (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0) if m * power >= wanted * (1.0 - 1e-9))
    )
