"""How low the rig hangs and how long the shoulder straps are: two ways of saying one thing."""

import numpy as np
import pytest

from scenarios.errors import ScenarioError
from sim.assembly.strap_length import drop_of_strap, slots_below_shoulders, strap_length


@pytest.mark.parametrize("drop", [-0.02, 0.0, 0.05])
def test_one_is_the_others_inverse(woman, drop):
    worn = woman().worn
    fixed = worn.plate, worn.body, worn.padding, worn.under_straps
    assert drop_of_strap(strap_length(drop, *fixed), *fixed) == pytest.approx(drop, abs=2e-5)  # looked for to 1e-5


def test_a_strap_told_by_its_length_hangs_the_rig_as_low(woman):
    told = woman("harness.drop=4 cm").worn
    length = strap_length(0.04, told.plate, told.body, told.padding, told.under_straps)
    strapped = woman(f"harness.shoulder_strap={1e3 * length:.4f} mm").worn
    assert strapped.drop == pytest.approx(0.04, abs=1e-4)
    assert strapped.seat.origin == pytest.approx(told.seat.origin, abs=2e-4)


def test_straps_run_over_the_shoulder_and_under_the_arm_with_what_drop_adds_to_either_run(woman):
    """A rig 1 cm lower pulls slots 1 cm lower: at most 1 cm more over the shoulder, less under the arm."""
    worn = woman().worn
    fixed = worn.plate, worn.body, worn.padding, worn.under_straps
    lengths = np.array([strap_length(d, *fixed) for d in (0.0, 0.01, 0.02)])
    assert (np.diff(lengths) > 0.0).all()
    assert (np.diff(lengths) < 0.02).all()


def test_slots_level_with_the_shoulders_by_hand(woman):
    """Hung so low, the plate taken as upright, its shoulder slots are as high as the acromia."""
    worn = woman().worn
    heights, plate = worn.body.person.skeleton.heights, worn.plate
    drop = slots_below_shoulders(plate, worn.body)
    waist = worn.body.landmarks["natural waist back"][0]
    slots = waist - drop - plate.waist_slots[:, 0].mean() + plate.shoulder_slots[:, 0].mean()
    assert slots == pytest.approx(heights["acromion"], abs=1e-9)


def test_lengths_that_no_height_gives_are_refused_with_those_there_are(woman):
    """As low as 30 cm below the waist, as high as slots level with shoulders or 20 cm above the waist."""
    worn = woman().worn
    fixed = worn.plate, worn.body, worn.padding, worn.under_straps
    longest = 100.0 * strap_length(0.30, *fixed)
    shortest = 100.0 * strap_length(max(-0.20, slots_below_shoulders(worn.plate, worn.body)), *fixed)
    with pytest.raises(ScenarioError, match=f"give {shortest:.1f} to {longest:.1f} cm") as caught:
        woman(f"harness.shoulder_strap={longest + 1.0:.1f} cm")
    assert "harness.shoulder_strap" in str(caught.value)
    with pytest.raises(ValueError, match="nowhere between"):
        drop_of_strap(0.01 * shortest - 0.01, *fixed)
