"""How ranges of the arm change with age and with what is worn."""

import numpy as np
import pytest

from sim.answers.fit.joint_ranges import arm_ranges

OLD = 81.0 / 104.0


@pytest.mark.parametrize(("age", "left"), [(20, 1.0), (55, 1.0), (65, 0.5 * (1.0 + OLD)), (75, OLD), (90, OLD)])
@pytest.mark.parametrize("sex", ["female", "male"])
def test_outward_turn_is_lost_between_55_and_75(sex, age, left):
    """Of 104 degrees (1 to 54 years, Boone and Azen 1979) 81 are left (65 to 85 years, Walker et al. 1984); the years
    are assumed. Nothing else of the shoulder changes with age."""
    young, old = arm_ranges(sex, 30.0, 0.0), arm_ranges(sex, float(age), 0.0)
    assert np.array(old.outward) == pytest.approx(left * np.array(young.outward), rel=1e-12)
    assert (old.flexion, old.extension, old.inward, old.elbow) == (
        young.flexion, young.extension, young.inward, young.elbow,
    )  # fmt: skip


def test_what_is_worn_comes_off_each_motion_of_the_shoulder_and_off_the_elbow_apart():
    bare, clad = arm_ranges("male", 40.0, 0.0), arm_ranges("male", 40.0, 0.1, 0.2)
    for name in ("flexion", "extension", "inward"):
        assert getattr(bare, name) - getattr(clad, name) == pytest.approx(0.1, rel=1e-9)
    assert np.subtract(bare.outward, clad.outward) == pytest.approx([0.1, 0.1], rel=1e-9)
    assert bare.elbow - clad.elbow == pytest.approx(0.2, rel=1e-9)
    assert arm_ranges("male", 40.0, 10.0).flexion == 0.0


# degrees, 5, 50 and 95 % of people, Vairo et al. 2012, Table 4: flexion, outward turn at the side and raised, inward
VAIRO = {
    "male": ((153, 165, 179), (55, 77, 92), (80, 100, 115), (30, 55, 75)),
    "female": ((155, 168, 180), (55, 80, 95), (80, 101, 125), (40, 55, 75)),
}


@pytest.mark.parametrize("sex", VAIRO)
def test_young_shoulders_are_those_of_the_published_table(sex):
    """Elbow and extension by Boone and Azen 1979, wrist by Green and Wolf, in Norkin and White 2016."""
    for i, people in enumerate(("stiff", "usual", "supple")):
        found = arm_ranges(sex, 25.0, 0.0, people=people)
        told = np.degrees([found.flexion, *found.outward, found.inward])
        assert told == pytest.approx([row[i] for row in VAIRO[sex]], rel=1e-12)
        assert np.degrees([found.extension, found.elbow, found.wrist]) == pytest.approx(
            [62.0, 143.0, 65.0], rel=1e-12
        )
