"""What share of a population ends each way, from a fast guess at everybody and a few worked out in full.

The guess's share is put right by what those worked out in full say against the guess that was made of them without
them: the difference estimator of two-phase sampling (Cochran 1977, Sampling Techniques, chapter 12, from memory).
However poor the guess, the share is right on average; a good guess makes it surer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sim.telling.share_band import NINETY, share_band

Names = NDArray[np.str_]


@dataclass(frozen=True)
class Share:
    """A share of all such people, and what it may be: a 90 % band."""

    share: float
    low: float
    high: float


def shares_of(told: Sequence[str], guessed: Names, known: Names, guessed_of_known: Names) -> dict[str, Share]:
    """The share of each way ``told``.

    guessed : (n,) for people of whom nothing else is known
    known : (k,) of those worked out in full;  guessed_of_known : (k,) what was guessed of them without them
    All n + k were drawn alike. The band is that of k and n + k draws at random, wider than need be for quasi-random
    ones; where the guess failed nobody of k it may still fail some: that share is taken at the upper end of its own
    band's middle (Wilson's, see ``share_band``). Nobody known: a band of (0, 1).
    """
    count, few = len(guessed) + len(known), len(known)
    if few == 0:
        return {name: Share(math.nan, 0.0, 1.0) for name in told}
    found = {}
    for name in told:
        if not len(guessed):
            right = int((known == name).sum())
            found[name] = Share(right / few, *share_band(right, few))
            continue
        wrong = (known == name).astype(float) - (guessed_of_known == name)
        off, rest = float(wrong.mean()), len(guessed) / count
        guess = (float((guessed == name).sum()) + float((guessed_of_known == name).sum())) / count
        # those worked out in full are told as they are, the rest by the guess put right
        share = guess + float(wrong.sum()) / count + rest * off
        square = NINETY**2
        spread = (float(np.abs(wrong).sum()) + square / 2.0) / (few + square) - off**2
        inside = min(max(share, 0.0), 1.0)
        half = NINETY * math.sqrt(rest * max(spread, 0.0) / few + inside * (1.0 - inside) / count)
        found[name] = Share(inside, max(inside - half, 0.0), min(inside + half, 1.0))
    return found
