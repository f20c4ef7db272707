"""Published values on loads on the back against the statics of a pack on a standing man.

LEAN: Kinoshita 1985, Ergonomics 28:1347, 11 degrees with 40 % of body mass (from memory). His men walked; standing,
the lean lies between that of a stiff body from the ankles and that of bent hips alone.
RISE: Goh, Thin & Bose 1998, Clin Biomech 13 (abstract): the peak force in L5/S1 of ten men walking rose by 26.7 and
64 % with 15 and 30 % of body mass. Ours stands: least and greatest over lean, hips' share and muscles' arms.
ABOVE: Winter 2009, Table 4.1: head, arms and trunk less pelvis are 0.536 of body mass.
"""

from __future__ import annotations

from functools import cache
from itertools import product
from math import cos, degrees

import numpy as np
import pytest

from meshes.mesh import Floats
from meshes.solid import combined
from sim.answers.fit.ashore import compression
from sim.answers.fit.carrying import Places, flexion, hold, lean_to_balance, load_moment, weight_vector
from sim.answers.fit.upper_body import above_hips, above_lumbar_joint, lumbar_joint
from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import PosedBody, posed_body

STANDARD_GRAVITY = 9.80665  # m/s^2, ISO 80000-3

MASS = 68.0  # kg, a usual young man
PACK_BEHIND = 0.12  # m from the back to the middle of a pack (assumed)
PACK_BELOW = 0.05  # m from the height of the chest's middle to that of the pack (assumed)
CUT_PLANES = 0.03  # of body mass: de Leva's thigh, cut obliquely, is 0.04 of body mass heavier than Winter's


@cache
def man() -> PosedBody:
    return posed_body(person_of("male", 1.72, MASS), POSES["upright"])


def pack() -> Floats:
    body = man()
    chest = body.person.skeleton.heights["chest"]
    return np.array([chest - PACK_BELOW, float(body.back_surface(chest, 0.0)) + PACK_BEHIND])


def leans(load: float) -> tuple[float, float]:
    """From the ankles, from the hips."""
    body = man()
    bare, upper = combined([s for _, s in body.segments]), above_hips(body)
    legs = bare.mass - upper.mass
    legs_cm = ((bare.mass * bare.cm - upper.mass * upper.cm) / legs)[[0, 2]]
    whole = bare.mass + load, (bare.mass * bare.cm[[0, 2]] + load * pack()) / (bare.mass + load)
    above = upper.mass + load, (upper.mass * upper.cm[[0, 2]] + load * pack()) / (upper.mass + load)
    target = float(bare.cm[2])
    return (
        lean_to_balance(whole, (0.0, np.zeros(2)), body.joints["left ankle"][[0, 2]], target),
        lean_to_balance(above, (legs, legs_cm), np.zeros(2), target),
    )


def pressed(load: float, lean: float, hips: float) -> tuple[float, float]:
    body = man()
    mass, cm = above_lumbar_joint(body)
    joint, g = lumbar_joint(body), STANDARD_GRAVITY
    moment, along = flexion(weight_vector(mass * g, lean), cm, joint), mass * g * cos(lean)
    if load > 0.0:
        h, marks = body.person.skeleton.heights, body.landmarks
        crest = h["iliac crest"]
        places = Places(
            np.array([h["acromion"], marks["left acromion"][2]]),
            np.array([crest, marks["left iliac crest"][2]]),
            np.array([crest, float(body.back_surface(crest, 0.0))]),
        )
        held = hold(load * g, pack(), lean, hips, places)
        moment, along = moment + load_moment(held, joint), along + float(held.shoulders[0])
    return compression(moment, along)


def test_measured_lean_lies_between_ankles_and_hips() -> None:
    ankles, hips = leans(0.40 * MASS)
    assert degrees(ankles) < 11.0 < degrees(hips)


@pytest.mark.parametrize(("share", "measured"), [(0.15, 0.267), (0.30, 0.64)])
def test_measured_rise_of_the_spines_load_lies_in_our_range(share: float, measured: float) -> None:
    bare = pressed(0.0, 0.0, 0.0)
    found = [c for lean, hips in product(leans(share * MASS), (0.0, 0.3)) for c in pressed(share * MASS, lean, hips)]
    assert min(found) / bare[1] - 1.0 < measured < max(found) / bare[0] - 1.0


def test_mass_above_the_lumbar_joint() -> None:
    mass, _ = above_lumbar_joint(man())
    assert mass / MASS == pytest.approx(0.678 - 0.142, abs=CUT_PLANES)
