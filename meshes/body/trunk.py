"""The surface of trunk, neck and head of a standing body as a function of height and angle, left half.

Sections are superellipses between a front and a back profile: across hips and waist the exponent is found from the
measured girth, since real sections are squarer than an ellipse; the chest's breadth is found from girth and depth,
since surveys take it compressed and at full breath. Offsets without a source beside them are assumed, by eye.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body.curves import (
    Curves,
    exponent_of_girth,
    half_breadth_of_girth,
    side_by_side,
    smooth_step,
    station_curves,
)
from meshes.body.features import Feature, relief, trunk_features
from meshes.body.head import head_profiles, root_of_neck, top_of_shoulder
from meshes.body.skeleton import SEAT_BEHIND, Skeleton
from meshes.body.swelling import Swelling
from meshes.mesh import Floats

CHEST_EXPONENT: Final = 2.5  # squareness of the chest section
NARROWEST_WAIST: Final = {"male": 0.98, "female": 0.93}  # of the breadth at the navel; bdims girths
LUMBAR_HOLLOW: Final = {"male": 0.032, "female": 0.036}  # m, small of the back in front of the buttocks' plane
BETWEEN_BREASTS: Final = {"male": 0.002, "female": 0.022}  # m, midline behind the foremost part of the chest
BEHIND_CHEST: Final = {"male": 0.006, "female": 0.008}  # m, back at the chest's level in front of its rearmost part
BREASTS: Final = {"male": 0.0, "female": 0.024}  # m, what the breasts' relief adds to the chest's girth
BELLY: Final = {"male": 0.002, "female": 0.008}  # m, roundness of the lower belly
ROUNDNESS: Final = 0.005  # m, buttocks and shoulder blades behind the midline of the back
NECKLINE: Final = 0.045  # m, the neck's root is so much higher at the sides than at the notch

BEHIND: Final = np.linspace(0.5 * np.pi, np.pi, 65)  # angles between which the back is taken as straight
SINE_BEHIND: Final = np.append(np.sin(BEHIND[:-1]), 0.0)

Profile = list[tuple[float, float]]  # (height, value), from below upward


@dataclass(frozen=True, eq=False)
class TrunkSurface:
    """Profiles over height: front z; and back z, half-breadth, centre, front exponent, back exponent.

    The centre is where the section is broadest, as a share of the way from back to front.
    """

    front: Curves
    profiles: Curves
    features: tuple[Feature, ...]
    skeleton: Skeleton
    swell: float

    def at(self, x: Floats, t: Floats) -> Floats:
        """Points (..., 3) [m] at heights x and angles t: 0 front midline, pi/2 left side, pi back; they broadcast to
        (...), heights told once for all angles of a section being quicker."""
        return self.swelling(x, t).at(self.swell)

    def swelling(self, x: Floats, t: Floats) -> Swelling:
        """The same points (...) as breadths and depths swell."""
        back, breadth, share, n_front, n_back = np.moveaxis(self.profiles(x), -1, 0)
        front = self.front(x - self._neckline(x, t))[..., 0]
        centre = back + share * (front - back)
        ahead = t < 0.5 * np.pi
        power = 2.0 / np.where(ahead, n_front, n_back)
        cosine, sine = np.cos(t), np.where((t <= 0.0) | (t >= np.pi), 0.0, np.abs(np.sin(t)))
        y = breadth * sine**power
        z = np.where(ahead, front - centre, back - centre) * np.abs(cosine) ** power
        x, ahead = np.broadcast_to(x, y.shape), np.broadcast_to(ahead, y.shape)
        z = z + relief(self.features, x, y, ahead)
        zero = np.zeros_like(y)
        return Swelling(np.stack([x, zero, centre], axis=-1), np.stack([zero, y, z], axis=-1))

    def back(self, x: Floats, y: Floats) -> Floats:
        """z (n, m) [m] of the back at heights x (n,) and distances y (n, m), 0 or more, held within the flanks.

        Straight between the ``BEHIND`` of a section, of which only those on both sides of each place are worked out.
        """
        breadth, behind = self.profiles(x)[:, [1, 4]].T
        across = self.swell * (breadth[:, None] * SINE_BEHIND ** (2.0 / behind)[:, None])  # falls along a row
        inner = len(BEHIND) - (across[:, None] <= y[..., None]).sum(axis=-1)
        pair = np.maximum(np.stack([inner, inner - 1], axis=-1), 0)
        z = self.at(x[:, None, None], BEHIND[pair])[..., 2]
        rows = np.take_along_axis(across[:, None], pair, axis=-1)
        run = rows[..., 1] - rows[..., 0]
        slope = (z[..., 1] - z[..., 0]) / np.where(run > 0.0, run, 1.0)
        return np.asarray(z[..., 0] + slope * np.where(run > 0.0, y - rows[..., 0], 0.0))

    def _neckline(self, x: Floats, t: Floats) -> Floats:
        """How much higher than in the middle the front profile turns from chest to neck: along the collar bones."""
        h = self.skeleton.heights
        window = smooth_step((x - h["axilla"]) / 0.07) * smooth_step((h["c7"] + 0.01 - x) / 0.04)
        return np.asarray(NECKLINE * np.sin(t) ** 2 * window)


def trunk_surface(skeleton: Skeleton, swell: float = 1.0) -> TrunkSurface:
    """Surface of a standing trunk with neck and head; ``swell`` scales breadths and depths about the centre line."""
    s = skeleton
    parts = (_front(s), _back(s), _breadth(s), _share(s), *_exponents(s))
    head = head_profiles(s, neck_front(s), neck_back(s))
    front, *curves = (_curve(body + upper) for body, upper in zip(parts, head, strict=True))
    return TrunkSurface(front, side_by_side(curves), trunk_features(s), s, swell)


def _curve(points: Sequence[tuple[float, float]]) -> Curves:
    """Curve through points given from below upward, as anatomy has them.

    Landmarks are not in that order in all people: heights that crowd or cross are pushed up, never exchanged, so that
    the curve changes without a jump when landmarks pass each other.
    """
    table = np.array(points)
    gap = 0.004 * np.arange(len(table))
    return station_curves(np.maximum.accumulate(table[:, 0] - gap) + gap, table[:, 1:])


def seat_back(s: Skeleton) -> float:
    """z of the buttocks on the midline [m], but for the cleft; their roundness stands out a little more."""
    return SEAT_BEHIND * s.measures["buttockdepth"] - ROUNDNESS


def chest_back(s: Skeleton) -> float:
    """z of the rearmost part of the upper back [m], nearly the plane of the buttocks."""
    return seat_back(s) - 0.003


def chest_front(s: Skeleton) -> float:
    """z of the foremost part of the chest [m], its depth in front of the back at the same level."""
    return chest_back(s) - BEHIND_CHEST[s.sex] - s.measures["chestdepth"]


def neck_back(s: Skeleton) -> float:
    """z of the skin over C7 [m]."""
    return chest_back(s) - 0.030


def neck_front(s: Skeleton) -> float:
    """z of the sternal notch [m]."""
    return neck_back(s) - 0.98 * s.measures["neckcircumferencebase"] / np.pi


def _waist(s: Skeleton) -> tuple[float, float]:
    back = seat_back(s) - LUMBAR_HOLLOW[s.sex]
    return back - s.measures["waistdepth"], back


def _levels(s: Skeleton) -> tuple[float, float, float, float]:
    """Heights of the upper pelvis, the narrowest waist, the axilla and the top of the armhole."""
    h = s.heights
    return (
        0.5 * (h["buttock"] + h["navel"]),
        h["navel"] + 0.7 * (h["tenth rib"] - h["navel"]),
        max(h["axilla"], h["chest"] + 0.02),
        top_of_shoulder(s),
    )


def _front(s: Skeleton) -> Profile:
    h = s.heights
    seat = seat_back(s) + ROUNDNESS - s.measures["buttockdepth"]
    chest, waist = chest_front(s), _waist(s)[0]
    high = chest + 0.006 + 1.2 * BETWEEN_BREASTS[s.sex]
    pelvis, rib, axilla, _ = _levels(s)
    between = BETWEEN_BREASTS[s.sex]
    return [
        (h["crotch"] - 0.10, seat + 0.026),
        (h["crotch"], seat + 0.014),
        (h["buttock"], seat + 0.002),
        (pelvis, 0.5 * (seat + waist) - BELLY[s.sex]),
        (h["navel"], waist),
        (rib, 0.70 * waist + 0.30 * chest + 0.25 * between),
        (h["chest"], chest + between),
        (axilla, high),
        (0.45 * axilla + 0.55 * h["notch"], 0.66 * high + 0.34 * neck_front(s)),
        (h["notch"], neck_front(s)),
    ]


def _back(s: Skeleton) -> Profile:
    h = s.heights
    seat, chest, waist = seat_back(s), chest_back(s), _waist(s)[1]
    pelvis, rib, axilla, _ = _levels(s)
    return [
        (h["crotch"] - 0.10, seat - 0.024),
        (h["crotch"] - 0.01, seat - 0.007),
        (h["buttock"], seat),
        (pelvis, 0.62 * seat + 0.38 * waist),
        (h["navel"], waist + 0.002),
        (rib, waist),
        (h["xiphoid"], chest - 0.010),
        (0.5 * (h["xiphoid"] + h["acromion"]), chest),
        (axilla + 0.6 * (h["c7"] - axilla), chest - 0.008),
        (h["c7"], neck_back(s)),
    ]


def _breadth(s: Skeleton) -> Profile:
    m, h = s.measures, s.heights
    hip, waist, acromion = 0.5 * m["hipbreadth"], 0.5 * m["waistbreadth"], 0.5 * m["biacromialbreadth"]
    between = BETWEEN_BREASTS[s.sex]
    chest = half_breadth_of_girth(
        0.5 * (m["chestdepth"] - between), CHEST_EXPONENT, m["chestcircumference"] - 0.5 * between - BREASTS[s.sex]
    )
    base = m["neckcircumferencebase"] / (2.0 * np.pi)
    pelvis, rib, axilla, top = _levels(s)
    middle = root_of_neck(s)
    return [
        (h["crotch"] - 0.10, 0.975 * hip),
        (h["crotch"], 0.995 * hip),
        (h["buttock"], hip),
        (pelvis, 0.68 * hip + 0.32 * waist),
        (h["navel"], waist),
        (rib, NARROWEST_WAIST[s.sex] * waist),
        (0.5 * (rib + h["chest"]), 0.24 * NARROWEST_WAIST[s.sex] * waist + 0.76 * chest),
        (h["chest"], chest),
        (axilla, 0.42 * chest + 0.50 * acromion),
        (0.5 * (axilla + top), 0.84 * acromion),
        (top - 0.018, 0.82 * acromion),
        (top, 0.76 * acromion),
        (top + 0.30 * (middle - top), 0.51 * acromion + 0.43 * base),
        (top + 0.65 * (middle - top), 0.22 * acromion + 0.93 * base),
        (middle, 1.30 * base),
    ]


def _share(s: Skeleton) -> Profile:
    h = s.heights
    _, rib, axilla, top = _levels(s)
    return [(h["crotch"], 0.50), (rib, 0.50), (h["chest"], 0.48), (axilla, 0.48), (top, 0.46)]


def _exponents(s: Skeleton) -> tuple[Profile, Profile]:
    m, h = s.measures, s.heights
    hip = exponent_of_girth(0.5 * m["hipbreadth"], 0.5 * m["buttockdepth"], m["buttockcircumference"])
    waist = exponent_of_girth(0.5 * m["waistbreadth"], 0.5 * m["waistdepth"], m["waistcircumference"])
    _, _, axilla, top = _levels(s)
    below = [(h["crotch"], hip), (h["buttock"], hip), (h["navel"], waist), (h["chest"], CHEST_EXPONENT)]
    base = root_of_neck(s)
    ahead = [(axilla, 2.3), (0.5 * (axilla + top), 1.95), (top, 1.65), (base, 1.75)]
    behind = [(axilla, 2.4), (0.5 * (axilla + top), 2.3), (top, 1.95), (base, 1.85)]
    return below + ahead, below + behind
