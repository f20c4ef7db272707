"""Woodhull et al. 1985, Eur J Appl Physiol 54:109: how 15 people stood, in profile on a reaction board.

Landmarks in front of the ankle and CM above a joint in front of it, mean and SD [cm]; from the abstract, which does
not say how tall they were.
"""

from math import sqrt

import pytest

from meshes.solid import combined
from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import posed_body

PEOPLE = 15
AHEAD_OF_ANKLE = {"knee": 3.8, "hip": 6.2, "shoulder": 3.8}
ABOVE = {"knee": (1.4, 1.1), "hip": (-1.0, 1.6)}
BELOW = {"knee": ("shank", "foot"), "hip": ("thigh", "shank", "foot")}


@pytest.fixture(scope="module", params=[("male", 1.72, 68.0), ("male", 1.80, 78.0), ("female", 1.65, 60.0)])
def standing(request):
    return posed_body(person_of(*request.param), POSES["upright"])


@pytest.mark.parametrize("joint", AHEAD_OF_ANKLE)
def test_joints_stand_as_they_did(standing, joint):
    """The places of our joints are theirs: this holds the skeleton to it, to the printed digit."""
    joints = standing.person.skeleton.joints
    assert 100.0 * (joints["ankle"][2] - joints[joint][2]) == pytest.approx(AHEAD_OF_ANKLE[joint], abs=0.05)


@pytest.mark.parametrize("joint", ABOVE)
def test_weight_above_a_joint(standing, joint):
    """Two standard errors. That above the hips is one of the numbers from which the hips' place was chosen."""
    above = combined([s for name, s in standing.segments if not name.endswith(BELOW[joint])])
    ahead = 100.0 * (standing.joints[f"left {joint}"][2] - above.cm[2])
    mean, sd = ABOVE[joint]
    assert ahead == pytest.approx(mean, abs=2.0 * sd / sqrt(PEOPLE))
