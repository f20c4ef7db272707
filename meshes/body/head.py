"""Profiles of neck, face and skull, in the terms of ``meshes.body.trunk``. Proportions of the face are assumed."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.body.curves import kept_above
from meshes.body.skeleton import EAR_BEHIND, Skeleton

Profile = list[tuple[float, float]]

EAR_BEHIND_FOREHEAD: Final = 0.49  # of head length (ANSUR 1988 means, from memory)
DOME: Final = (0.30, 0.50, 0.68, 0.82, 0.91, 0.965, 0.993, 1.0)  # up the crown: where the dome has its stations
DOME_EXPONENT: Final = 2.05
LEAST_SLOPE: Final = 0.010  # m, from the top of the shoulder to the neck's root where landmarks lie level


def root_of_neck(s: Skeleton) -> float:
    """Height [m] at which the slope of the shoulders turns into the sides of the neck, always above their tops."""
    root = 0.3 * s.heights["notch"] + 0.7 * s.heights["c7"]
    return float(kept_above(top_of_shoulder(s), root, LEAST_SLOPE))


def top_of_shoulder(s: Skeleton) -> float:
    """Height [m] of the skin over the acromion."""
    return s.heights["acromion"] + 0.012


def face_front(s: Skeleton) -> float:
    """z of the forehead [m]."""
    return EAR_BEHIND - EAR_BEHIND_FOREHEAD * s.measures["headlength"]


def head_profiles(s: Skeleton, neck_front: float, neck_back: float) -> tuple[Profile, ...]:
    """Front, back, half-breadth, centre share and exponents over height, above the neck base."""
    m, h = s.measures, s.heights
    front = face_front(s)
    back = front + m["headlength"]
    chin, ear, root, top = h["chin"], h["tragion"], h["sellion"], h["vertex"]
    face = root - chin
    throat = max(neck_front + 0.006, front + 0.052)
    neck = m["neckcircumference"] / (2.0 * np.pi)
    skull, cheek = 0.5 * m["headbreadth"], 0.5 * m["bizygomaticbreadth"]
    base = root_of_neck(s)
    widest, brow, nape = ear + 0.040, root + 0.012, chin + 0.25 * face
    fore: Profile = [
        (h["notch"] + 0.5 * (chin - h["notch"]), throat + 0.002),
        (chin - 0.014, throat - 0.003),
        (chin - 0.003, front + 0.036),
        (chin + 0.004, front + 0.019),
        (chin + 0.013, front + 0.012),
        (chin + 0.27 * face, front + 0.0135),
        (chin + 0.36 * face, front + 0.008),
        (chin + 0.55 * face, front + 0.009),
        (chin + 0.80 * face, front + 0.008),
        (root, front + 0.006),
        (brow + 0.006, front),
    ]
    rear: Profile = [
        (h["c7"] + 0.35 * (nape - h["c7"]), neck_back - 0.012),
        (nape, back - 0.030),
        (0.5 * (nape + ear), back - 0.026),
        (ear + 0.010, back - 0.008),
        (widest + 0.012, back),
    ]
    broad: Profile = [
        (base + 0.35 * (chin - base), 1.06 * neck),
        (chin - 0.015, 0.95 * neck),
        (chin + 0.20 * face, 0.94 * neck),
        (chin + 0.45 * face, 0.90 * cheek),
        (ear, 0.99 * cheek),
        (widest, skull),
    ]
    middle = 0.5 * (front + back) + 0.006
    for u in DOME:
        round_off = (1.0 - u**DOME_EXPONENT) ** (1.0 / DOME_EXPONENT)
        fore.append((brow + 0.02 + u * (top - brow - 0.02), middle + (front - middle) * round_off))
        rear.append((widest + 0.02 + u * (top - widest - 0.02), middle + (back - middle) * round_off))
        broad.append((widest + u * (top - widest), max(skull * round_off, 0.001)))
    share: Profile = [(chin, 0.45), (ear, 0.50), (widest, 0.45), (top, 0.45)]
    ahead: Profile = [(chin - 0.02, 2.0), (chin + 0.01, 1.75), (chin + 0.4 * face, 1.9), (root, 2.35), (top, 2.1)]
    behind: Profile = [(chin, 2.0), (ear, 2.1), (top, 2.1)]
    return fore, rear, broad, share, ahead, behind
