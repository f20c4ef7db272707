"""Points that fill the space of unknowns evenly: scrambled Sobol' sequences (Owen 1998, J Complexity 14:466)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import numpy as np
from scipy.special import ndtr, ndtri

from meshes.mesh import Floats

Shape = Literal["normal", "uniform"]
SEED: Final = 20_250  # any fixed number: the same file gives the same answer
EDGE: Final = 1e-6  # nearest to 0 or 1 that a point may lie: 4.75 SD


def spread_points(shapes: Sequence[Shape], samples: int, seed: int = SEED) -> Floats:
    """Values (samples, len(shapes)) in units of each spread: SDs, or -1 to 1 for a uniform one.

    Raises ValueError unless ``samples`` is a power of two, for which a Sobol' sequence is balanced.
    """
    power = samples.bit_length() - 1
    if samples < 2 or samples != 1 << power:
        raise ValueError(f"the number of samples must be a power of two, like 1024, got {samples}")
    if not shapes:
        return np.zeros((samples, 0))
    from scipy.stats.qmc import Sobol

    points = np.clip(Sobol(len(shapes), scramble=True, rng=seed).random_base2(power), EDGE, 1.0 - EDGE)
    uniform = np.array([s == "uniform" for s in shapes])
    return np.where(uniform, 2.0 * points - 1.0, ndtri(points))


def of_scores(scores: Floats, shapes: Sequence[Shape]) -> Floats:
    """Values (n, d) in units of each spread from normal scores (n, d)."""
    uniform = np.array([s == "uniform" for s in shapes])
    return np.where(uniform, 2.0 * ndtr(scores) - 1.0, scores)
