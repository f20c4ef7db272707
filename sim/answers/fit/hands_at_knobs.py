"""Hands at the knobs of a rig hung in many ways; what is a mirror image of something tried is not tried again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.hung import Hung
from sim.answers.fit.many_reaches import Reaches, reaches
from sim.answers.fit.reach import SIDES

ACROSS: Final = np.array([1.0, -1.0, 1.0])  # to the other side
SAME: Final = 9  # digits [m] to which places are the same


def at_every_knob(hung: Hung, told: Callable[[Reaches], Floats]) -> Floats:
    """What is ``told`` (n, m, 2) in each of n ways of each of m knobs and the left and the right hand.

    -inf for a hand that is not used there.
    """
    knobs = hung.on_hanging(hung.rig.knobs)
    bars = hung.on_hanging(hung.rig.cylinders.reshape(-1, 3)).reshape(len(knobs), *hung.rig.cylinders.shape)
    found = np.full((*knobs.shape[:2], len(SIDES)), -np.inf)
    used = np.array([[side in hands for side in SIDES] for hands in hung.rig.hands])
    way, knob, hand = (i.ravel() for i in np.nonzero(np.broadcast_to(used, found.shape)))
    own = np.where((hand == 0)[:, None], knobs[way, knob], knobs[way, knob] * ACROSS)
    arm = np.zeros_like(hand) if hung.who.alike else hand
    for side in np.unique(arm):
        those = np.flatnonzero(arm == side)
        key = np.column_stack([way[those], np.round(own[those], SAME)])
        _, first, again = np.unique(key, axis=0, return_index=True, return_inverse=True)
        seen_from = hand[those[first]]  # a right hand sees the cylinders as their mirror images
        rigs = np.unique(np.column_stack([way[those[first]], seen_from]), axis=0)
        ends = np.where((rigs[:, 1] == 0)[:, None, None, None], bars[rigs[:, 0]], bars[rigs[:, 0]] * ACROSS)
        which = np.searchsorted(rigs @ [2, 1], way[those[first]] * 2 + seen_from)
        of = reaches(
            hung.who.arms[SIDES[side]], hung.who.upper_arms[SIDES[side]], which, ends, hung.rig.radius,
            own[those[first]],
        )  # fmt: skip
        found[way[those], knob[those], hand[those]] = told(of)[again.ravel()]
    return found
