"""How well ``hangflat seen`` ranks causes, on simulated divers of known cause."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from scipy.stats import norm

from meshes.mesh import Floats
from sim.answers.evidence.calibration import BY_CHANCE, stored
from sim.answers.evidence.check import Check, Compared, Kind
from sim.answers.seen.causes import CAUSES

THEME: Final = "What is seen"
WORSE: Final = 5.0  # points by which the true cause may be first less often than by the best possible ranking
ALIKE: Final = 1.0  # points
STAGES: Final = (("one sight", ""), ("a test after", "_after"), ("three tests after", "_after_3"))


def checks() -> tuple[Check, ...]:
    kind: Kind = "computed elsewhere"
    doubt = "stored: 300 divers drawn from the model's own causes and unknowns, scripts/seen_check.py"
    brute = "Bayes by brute force, the same observations"
    return (
        Check(THEME, "divers whose true cause is told first", brute, kind, "%", 1, _first, doubt),
        Check(THEME, "probability given to the true cause, mean", brute, kind, "%", 1, _given, doubt),
        Check(THEME, "probabilities told, by a test of their calibration", "Spiegelhalter 1986: normal score", kind,
              "", 1, _calibrated, doubt),
    )  # fmt: skip


def _first() -> Sequence[Compared]:
    """Shares of divers, ours beside the best possible."""
    rows = stored("seen_cases")
    found = []
    for words, ending in STAGES:
        ours, best = (
            100.0 * float(np.mean([r[f"{name}{ending}"] == r["cause"] for r in rows]))
            for name in ("first", "best_first")
        )
        found.append(Compared(ours, best - WORSE, 100.0, best, words))
    return found


def _given() -> Sequence[Compared]:
    """Ours beside the best possible: first places change hands between causes alike, probabilities do not."""
    rows = stored("seen_cases")
    found = []
    for words, ending in STAGES[:2]:
        ours, best = (100.0 * float(np.mean([float(r[f"{k}p_true{ending}"]) for r in rows])) for k in ("", "best_"))
        found.append(Compared(ours, best - ALIKE, best + ALIKE, best, words))
    return found


def told_and_true(stage: str) -> tuple[Floats, Floats]:
    """Probabilities told of every cause of every diver, and 1 where it was the true one; ``stage`` "p" or "after"."""
    rows = stored("seen_cases")
    told = np.array([[float(r[f"{stage} {name}"]) for name in CAUSES] for r in rows])
    true = np.array([[float(r["cause"] == name) for name in CAUSES] for r in rows])
    return told, true


def calibration_score(told: Floats, true: Floats) -> float:
    """Spiegelhalter's z of probabilities (n, k) of k exclusive outcomes against what was true, N(0, 1) if they hold.

    Of the Brier score (Spiegelhalter 1986, Statistics in Medicine 5:421), summed over the outcomes of a case: its
    mean and variance follow from the probabilities told, whatever they are.
    """
    score = ((told - true) ** 2).sum(axis=1)
    each = 1.0 - 2.0 * told + (told**2).sum(axis=1, keepdims=True)  # the score if outcome k is the true one
    mean = (told * each).sum(axis=1)
    variance = (told * each**2).sum(axis=1) - mean**2
    return float((score - mean).sum() / np.sqrt(variance.sum()))


def _calibrated() -> Sequence[Compared]:
    most = float(norm.isf(0.5 * BY_CHANCE))
    return [
        Compared(calibration_score(*told_and_true(stage)), -most, most, 0.0, words)
        for stage, words in (("p", "one sight"), ("after", "a test after"))
    ]
