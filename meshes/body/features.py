"""Small relief on the trunk and face that makes a person: nose, eyes, breasts, spine, buttocks. Sizes are assumed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from meshes.body.skeleton import Skeleton
from meshes.mesh import Floats


@dataclass(frozen=True)
class Feature:
    """A bump on the front or back, and its mirror image on the other side.

    height : how far it stands out [m], negative for a hollow;  front : on the front, else on the back
    x, y : its centre [m];  below, above : length scales down and up from the centre;  across : sideways [m]
    sharpness : 2 is a bell, larger a flatter top with steeper sides
    """

    front: bool
    height: float
    x: float
    y: float
    below: float
    above: float
    across: float
    sharpness: float = 2.0

    def relief(self, x: Floats, y: Floats) -> Floats:
        """Change of z (n,) at heights x and half-breadths y >= 0 of its own front or back."""
        up = (x - self.x) / np.where(x < self.x, self.below, self.above)
        bell = np.exp(-((up * up) ** (0.5 * self.sharpness)))
        aside = (y - self.y) / self.across
        over = np.exp(-aside * aside)
        if self.y > 0.0:  # the other side's bump reaches over the midline
            aside = (y + self.y) / self.across
            over += np.exp(-aside * aside)
        return np.asarray((-self.height if self.front else self.height) * bell * over)


def relief(features: Sequence[Feature], x: Floats, y: Floats, ahead: NDArray[np.bool_]) -> Floats:
    """Change of z by all features, (...) as heights x, half-breadths y >= 0 and whether a point is on the front."""
    out = np.zeros(x.shape)
    for front in (True, False):
        here = ahead == front
        at, aside = x[here], y[here]
        total = np.zeros(len(at))
        for feature in features:
            if feature.front == front:
                total += feature.relief(at, aside)
        out[here] = total
    return out


def trunk_features(s: Skeleton) -> tuple[Feature, ...]:
    """All relief of one body."""
    m, h = s.measures, s.heights
    face = h["sellion"] - h["chin"]
    out = 0.5 * m["hipbreadth"]
    features = [
        Feature(True, 0.021, h["chin"] + 0.64 * face, 0.0, 0.011, 0.028, 0.011),  # nose
        Feature(True, -0.007, h["sellion"] - 0.09 * face, 0.033, 0.014, 0.012, 0.014),  # eyes
        Feature(True, -0.003, h["chin"] + 0.22 * face, 0.0, 0.006, 0.008, 0.02),  # under the lip
        Feature(False, -0.026, 0.5 * (h["crotch"] + h["buttock"]) + 0.012, 0.0, 0.07, 0.055, 0.014, 4.0),  # cleft
        Feature(False, 0.010, h["buttock"] - 0.002, 0.42 * out, 0.05, 0.06, 0.07),  # buttocks
        Feature(False, -0.006, 0.5 * (h["navel"] + h["xiphoid"]), 0.0, 0.12, 0.12, 0.022),  # spine
        Feature(False, 0.005, h["axilla"] + 0.01, 0.5 * m["biacromialbreadth"] * 0.45, 0.06, 0.06, 0.05),  # blades
    ]
    if s.sex == "female":
        features.append(Feature(True, 0.040, h["chest"] - 0.004, 0.080, 0.045, 0.065, 0.050))
    else:
        features.append(Feature(True, 0.008, h["chest"] + 0.02, 0.080, 0.040, 0.060, 0.060))
    return tuple(features)
