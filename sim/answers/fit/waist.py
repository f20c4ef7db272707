"""Where a waist strap lies: in the soft waist, or over the bones below and above it."""

from __future__ import annotations

from typing import Literal

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.limits import STRAP_HALF_WIDTH, STRAP_OVER_BONE
from sim.said import word

Place = Literal["above the waist", "on the waist", "on the hips"]


def waist_room(crest: float, rib: float) -> float:
    """How far [m] from the natural waist, up or down, a strap's middle is still on the waist; below 0: nowhere.

    crest, rib : heights of the top of the hip bones and of the lowest rib [m], the natural waist midway between them
    Its edges may come over either by ``STRAP_OVER_BONE``, and where these lie closer together than webbing is wide by
    what cannot be helped; its middle stays between them in any case.
    """
    half = 0.5 * (rib - crest)
    return min(half, max(half - STRAP_HALF_WIDTH, 0.0) + STRAP_OVER_BONE)


def strap_heights(gap: float) -> tuple[float, float]:
    """Least and greatest height [m] above the top of the hip bones of a strap's middle on the waist.

    gap : how far the lowest rib is above them [m]
    """
    room = waist_room(0.0, gap)
    return 0.5 * gap - room, 0.5 * gap + room


def waist_margins(straps: Floats, crest: float, rib: float) -> Floats:
    """The same for heights of any shape."""
    return np.asarray(waist_room(crest, rib) - np.abs(straps - 0.5 * (crest + rib)))


def waist_margin(strap: float, crest: float, rib: float) -> float:
    """How much farther [m] from the natural waist a strap's middle at height ``strap`` [m] could lie; below 0: it is
    not on the waist."""
    return waist_room(crest, rib) - abs(strap - 0.5 * (crest + rib))


def strap_place(strap: float, crest: float, rib: float) -> Place:
    """Where a strap runs whose middle is at height ``strap`` [m]."""
    if waist_margin(strap, crest, rib) >= 0.0:
        return word("on the waist")
    return word("on the hips") if strap < 0.5 * (crest + rib) else word("above the waist")
