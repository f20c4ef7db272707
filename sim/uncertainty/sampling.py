"""Points that fill the space of unknowns evenly: scrambled Sobol' sequences (Owen 1998, J Complexity 14:466)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import numpy as np
from scipy.special import ndtr, ndtri

from meshes.mesh import Floats

Shape = Literal["normal", "uniform", "from nil"]
SEED: Final = 20_250  # any fixed number: the same file gives the same answer
EDGE: Final = 1e-6  # nearest to 0 or 1 that a point may lie: 4.75 SD


def spread_points(shapes: Sequence[Shape], samples: int, seed: int = SEED) -> Floats:
    """Values (samples, len(shapes)) in units of each spread: SDs, -1 to 1 for a uniform one, 0 to 1 for one from nil.

    Raises ValueError unless ``samples`` is a power of two, for which a Sobol' sequence is balanced.
    """
    power = samples.bit_length() - 1
    if samples < 2 or samples != 1 << power:
        raise ValueError(f"the number of samples must be a power of two, like 1024, got {samples}")
    if not shapes:
        return np.zeros((samples, 0))
    from scipy.stats.qmc import Sobol

    points = np.clip(Sobol(len(shapes), scramble=True, rng=seed).random_base2(power), EDGE, 1.0 - EDGE)
    return in_spreads(points, ndtri(points), shapes)


def lattice_points(shapes: Sequence[Shape], samples: int, seed: int = 0) -> Floats:
    """As ``spread_points``, for any number of samples and with nothing to load: Weyl's sequence in the powers of the
    root of x^(d + 1) = x + 1, which fills d dimensions evenly (Roberts 2018); ``seed`` skips so many points.
    """
    dimensions = len(shapes)
    if not dimensions:
        return np.zeros((samples, 0))
    root = 1.5
    for _ in range(60):
        root = (1.0 + root) ** (1.0 / (dimensions + 1.0))
    steps = root ** -np.arange(1.0, dimensions + 1.0)
    points = np.clip((0.5 + np.arange(seed + 1.0, seed + samples + 1.0)[:, None] * steps) % 1.0, EDGE, 1.0 - EDGE)
    return in_spreads(points, ndtri(points), shapes)


def of_scores(scores: Floats, shapes: Sequence[Shape]) -> Floats:
    """Values (n, d) in units of each spread from normal scores (n, d)."""
    return in_spreads(ndtr(scores), scores, shapes)


def in_spreads(points: Floats, scores: Floats, shapes: Sequence[Shape]) -> Floats:
    """Values (n, d) in units of each spread from points between 0 and 1 and the normal scores of the same."""
    uniform, from_nil = (np.array([s == shape for s in shapes], dtype=bool) for shape in ("uniform", "from nil"))
    return np.where(uniform, 2.0 * points - 1.0, np.where(from_nil, points, scores))
