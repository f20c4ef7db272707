"""Points of a scrambled Sobol' sequence at any places of it, to the bit those of ``scipy.stats.qmc.Sobol``.

Importing ``scipy.stats`` takes longer than a study's first rows, in every process. The direction numbers are those of
Joe and Kuo (2008, SIAM J Sci Comput 30:2635), as scipy ships them; the scrambling is Matousek's (1998, J Complexity
14:527): a random lower triangular matrix of bits and a random shift for each dimension.
"""

from __future__ import annotations

from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints

BITS: Final = 30  # of a point: a thousand million of them
NUMBERS: Final = Path("stats", "_sobol_direction_numbers.npz")

Words = NDArray[np.uint32]


def sobol_points(width: int, index: Ints, seed: tuple[int, ...]) -> Floats:
    """Points (n, width) of the sequence of a seed, at places ``index`` (n,), each 0 <= x < 1."""
    shift, directions = _scrambled(width, seed)
    gray = index ^ (index >> 1)
    found = np.broadcast_to(shift, (len(index), width)).copy()
    for bit in range(int(gray.max(initial=0)).bit_length()):
        found[(gray >> bit) & 1 == 1] ^= directions[:, bit]
    return np.asarray(found * 2.0**-BITS, dtype=float)


@lru_cache(maxsize=4)
def _scrambled(width: int, seed: tuple[int, ...]) -> tuple[Words, Words]:
    """Shift (width,) and direction numbers (width, BITS), scrambled."""
    plain = _directions(width)
    (rng,) = np.random.default_rng(seed).spawn(1)  # as scipy does
    shift = rng.integers(2, size=(width, BITS), dtype=np.uint32) @ (2 ** np.arange(BITS, dtype=np.uint32))
    matrices = np.tril(rng.integers(2, size=(width, BITS, BITS), dtype=np.uint32))
    matrices[:, range(BITS), range(BITS)] = 1
    from_top = np.arange(BITS - 1, -1, -1, dtype=np.uint32)
    bits = (plain[:, :, None] >> from_top) & 1  # (width, number, bit), the most significant first
    mixed = np.einsum("drc,dnc->dnr", matrices, bits) & 1
    return shift, (mixed << from_top).sum(axis=2, dtype=np.uint32)


def _directions(width: int) -> Words:
    """Direction numbers (width, BITS), not scrambled. Raises ValueError for more dimensions than scipy has."""
    scipy = find_spec("scipy")
    if scipy is None or scipy.origin is None:
        raise ModuleNotFoundError("scipy is not installed")
    with np.load(Path(scipy.origin).parent / NUMBERS) as told:
        polynomials, first = told["poly"][:width], told["vinit"][:width]
    if len(polynomials) < width:
        raise ValueError(f"a Sobol' sequence has {len(polynomials):,} dimensions at most, {width:,} are asked for")
    found = np.ones((width, BITS), dtype=np.uint32)
    for row, polynomial, begun in zip(found[1:], polynomials[1:].tolist(), first[1:], strict=True):
        degree = polynomial.bit_length() - 1
        row[:degree] = begun[:degree]
        for j in range(degree, BITS):
            value = int(row[j - degree])
            for k in range(degree):
                if polynomial >> (degree - 1 - k) & 1:
                    value ^= int(row[j - k - 1]) << (k + 1)
            row[j] = value
    return found << np.arange(BITS - 1, -1, -1, dtype=np.uint32)
