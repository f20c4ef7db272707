"""A shuffled order of 0 to n - 1 in which any place can be looked up without the others being held in memory.

A Feistel network over the bits of the index is a permutation whatever its round function (Luby & Rackoff 1988, SIAM J
Comput 17:373); an index that leaves the range is sent round again until it is back (cycle walking, Black & Rogaway
2002, CT-RSA). The round function is the finaliser of splitmix64 (Steele, Lea & Flood 2014, OOPSLA).
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Ints

Words = NDArray[np.uint64]

ROUNDS: Final = 8
_FIRST, _SECOND = np.uint64(0xBF58476D1CE4E5B9), np.uint64(0x94D049BB133111EB)


def shuffled(index: Ints, count: int, seed: tuple[int, ...]) -> Ints:
    """Place (k,) of each ``index`` (k,), all from 0 to count - 1, in the order that ``seed`` stands for."""
    half = np.uint64(max(1, (max(count - 1, 1).bit_length() + 1) // 2))
    keys = np.random.SeedSequence(seed).generate_state(ROUNDS, np.uint64).astype(np.uint64)
    at = _round_trip(index.astype(np.uint64), half, keys)
    while (outside := at >= count).any():
        at[outside] = _round_trip(at[outside], half, keys)
    return at.astype(np.int64)


def _round_trip(index: Words, half: np.uint64, keys: Words) -> Words:
    mask = (np.uint64(1) << half) - np.uint64(1)
    left, right = index >> half, index & mask
    for key in keys:
        left, right = right, left ^ (_mixed(right ^ key) & mask)
    return (left << half) | right


def _mixed(word: Words) -> Words:
    """Every bit of the word on every other."""
    word = (word ^ (word >> np.uint64(30))) * _FIRST
    word = (word ^ (word >> np.uint64(27))) * _SECOND
    return np.asarray(word ^ (word >> np.uint64(31)))
