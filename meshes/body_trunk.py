"""The surface of trunk, neck and head of a standing body, left half, as a function of height and angle.

Sections are superellipses: across the flat sections the exponent is found from the measured girth, since real
sections are squarer than an ellipse; the chest's breadth is found from girth and depth, since surveys take it
compressed and at full breath.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body_curves import Curves, exponent_of_girth, half_breadth_of_girth, station_curves
from meshes.body_skeleton import Skeleton
from meshes.mesh import Floats

CHEST_EXPONENT: Final = 2.5  # squareness of the chest section (assumed)
NARROWEST_WAIST: Final = {"male": 0.98, "female": 0.92}  # of the breadth at the navel (assumed, bdims girths)


@dataclass(frozen=True, eq=False)
class TrunkSurface:
    """Station curves of the trunk: centre z, half-breadth, front and back depth, front and back exponent."""

    curves: Curves
    skeleton: Skeleton
    swell: float
    bumps: tuple[Callable[[Floats, Floats, Floats], Floats], ...] = ()

    def at(self, x: Floats, t: Floats) -> Floats:
        """Points (..., 3) [m] at height x and angle t, both (...): t = 0 front midline, pi/2 left side, pi back."""
        p = self.curves(x)
        z0, a, front, back, nf, nb = np.moveaxis(p, -1, 0)
        ahead = t < 0.5 * np.pi
        n = np.where(ahead, nf, nb)
        cosine, sine = np.cos(t), np.sin(t)
        depth = np.where(ahead, front, back)
        y = self.swell * a * np.clip(sine, 0.0, None) ** (2.0 / n)
        y = np.where((t <= 0.0) | (t >= np.pi), 0.0, y)
        z = -self.swell * depth * np.sign(cosine) * np.abs(cosine) ** (2.0 / n)
        for bump in self.bumps:
            z = z + self.swell * bump(x, y, t)
        return np.stack([x, y, z0 + z], axis=-1)


def trunk_surface(skeleton: Skeleton, swell: float = 1.0) -> TrunkSurface:
    """Surface of a standing trunk with neck and head; ``swell`` scales breadths and depths about their centres."""
    rows = _pelvis_and_chest(skeleton) + _shoulders_and_neck(skeleton) + _head(skeleton)
    rows.sort(key=lambda r: r[0])
    table = np.array(rows)
    rising = np.maximum.accumulate(table[:, 0] + 1e-4 * np.arange(len(table)))
    front, back = table[:, 1], table[:, 2]
    centre = back + table[:, 4] * (front - back)
    values = np.stack([centre, table[:, 3], centre - front, back - centre, table[:, 5], table[:, 6]], axis=1)
    return TrunkSurface(station_curves(rising, values), skeleton, swell)


# Each row: height, z of the front, z of the back, half-breadth, where between back (0) and front (1) the section is
# broadest, exponent of the front half, exponent of the back half
Row = tuple[float, float, float, float, float, float, float]


def _pelvis_and_chest(s: Skeleton) -> list[Row]:
    m, h = s.measures, s.heights
    hip, seat = 0.5 * m["hipbreadth"], m["buttockdepth"]
    n_hip = exponent_of_girth(hip, 0.5 * seat, m["buttockcircumference"])
    seat_back = 0.47 * seat
    seat_front = seat_back - seat
    waist, waist_depth = 0.5 * m["waistbreadth"], m["waistdepth"]
    n_waist = exponent_of_girth(waist, 0.5 * waist_depth, m["waistcircumference"])
    waist_back = seat_back - 0.030
    waist_front = waist_back - waist_depth
    chest_depth = m["chestdepth"]
    chest = half_breadth_of_girth(0.5 * chest_depth, CHEST_EXPONENT, m["chestcircumference"])
    chest_back = seat_back - 0.004
    chest_front = chest_back - chest_depth
    upper = 0.5 * (h["buttock"] + h["navel"])
    rib = h["navel"] + 0.75 * (h["tenth rib"] - h["navel"])
    narrow = NARROWEST_WAIST[s.sex]
    low = h["crotch"]
    return [
        (low - 0.10, seat_front + 0.025, seat_back - 0.045, 0.96 * hip, 0.5, n_hip, n_hip),
        (low, seat_front + 0.012, seat_back - 0.012, 0.985 * hip, 0.5, n_hip, n_hip),
        (h["buttock"], seat_front, seat_back, hip, 0.5, n_hip, n_hip),
        (upper, 0.5 * (seat_front + waist_front), 0.6 * seat_back + 0.4 * waist_back,
         0.55 * hip + 0.45 * waist, 0.5, n_waist, n_waist),
        (h["navel"], waist_front, waist_back, waist, 0.5, n_waist, n_waist),
        (rib, 0.75 * waist_front + 0.25 * chest_front + (1 - narrow) * 0.1, waist_back + 0.004, narrow * waist,
         0.5, n_waist, n_waist),
        (h["chest"], chest_front, chest_back, chest, 0.45, CHEST_EXPONENT, CHEST_EXPONENT),
    ]  # fmt: skip


def _shoulders_and_neck(s: Skeleton) -> list[Row]:
    m, h = s.measures, s.heights
    seat_back = 0.47 * m["buttockdepth"]
    back = seat_back - 0.004
    depth = m["chestdepth"]
    acromion = 0.5 * m["biacromialbreadth"]
    neck = m["neckcircumference"] / (2.0 * np.pi)
    base = m["neckcircumferencebase"] / (2.0 * np.pi)
    top = h["acromion"] + 0.010
    mid_base = 0.5 * (h["c7"] + h["notch"])
    axilla = max(h["axilla"], h["chest"] + 0.02)
    shaft = 0.5 * (h["c7"] + h["tragion"])
    return [
        (axilla, back - 0.93 * depth, back + 0.002, 0.86 * acromion, 0.45, 2.6, 2.6),
        (0.5 * (axilla + top), back - 0.80 * depth, back - 0.004, 0.80 * acromion, 0.45, 2.6, 2.6),
        (top, back - 0.66 * depth, back - 0.020, 0.74 * acromion, 0.42, 2.4, 2.4),
        (mid_base, back - 0.028 - 2.1 * base, back - 0.032, 1.25 * base, 0.42, 2.1, 2.1),
        (mid_base + 0.25 * (shaft - mid_base), back - 0.040 - 2.0 * neck, back - 0.040, 1.05 * neck, 0.5, 2.0, 2.0),
        (shaft, back - 0.050 - 2.02 * neck, back - 0.050, 0.97 * neck, 0.5, 2.0, 2.0),
    ]


def _head(s: Skeleton) -> list[Row]:
    m, h = s.measures, s.heights
    half, length = 0.5 * m["headbreadth"], m["headlength"]
    face = 0.5 * m["bizygomaticbreadth"]
    back = 0.45 * length - 0.006
    front = back - length
    chin, ear, top, root = h["chin"], h["tragion"], h["vertex"], h["sellion"]
    crown = top - root
    return [
        (chin + 0.004, front + 0.022, 0.05, 0.60 * face, 0.55, 1.9, 2.0),
        (chin + 0.030, front + 0.012, 0.055, 0.80 * face, 0.55, 1.9, 2.1),
        (0.5 * (chin + root), front + 0.008, 0.068, 0.96 * face, 0.5, 2.1, 2.2),
        (ear + 0.012, front + 0.006, back - 0.008, 1.02 * face, 0.5, 2.3, 2.2),
        (root, front + 0.006, back - 0.002, 0.5 * (half + face), 0.5, 2.4, 2.2),
        (root + 0.30 * crown, front, back, half, 0.48, 2.3, 2.2),
        (root + 0.62 * crown, front + 0.018, back - 0.008, 0.93 * half, 0.47, 2.2, 2.2),
        (root + 0.85 * crown, front + 0.052, back - 0.036, 0.68 * half, 0.47, 2.1, 2.1),
        (root + 0.96 * crown, front + 0.080, back - 0.064, 0.37 * half, 0.47, 2.0, 2.0),
        (top, 0.5 * (front + back) - 0.004, 0.5 * (front + back) + 0.004, 0.004, 0.5, 2.0, 2.0),
    ]
