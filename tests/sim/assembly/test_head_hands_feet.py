"""Hood, gloves and boots: where they are on the body."""

import numpy as np
import pytest

SOLE, SHAFT = 0.008, 0.16  # m: sole between foot and fin (assumed), sole to the boot's top (from memory, 15 to 20 cm)


def item(assembled, name):
    return next(p.solid for p in assembled.rig.parts if p.name == name)


def on_segment(assembled, segment, points):
    """Points (n, 3) carried back to where ``segment`` is on the standing body."""
    place = assembled.worn.body.placements[segment]
    return (points - place.at) @ place.rotation + place.pivot


def test_a_hood_is_round_the_head(single):
    assembled = single("suit.hood_thickness=6 mm", "pose.name=upright")
    hood = on_segment(assembled, "head", item(assembled, "hood").mesh.vertices)
    heights = assembled.worn.body.person.skeleton.heights
    measures = assembled.worn.body.person.skeleton.measures
    # 4 mm clear (assumed) and twice the foam's thickness wider than the head
    assert np.ptp(hood[:, 1]) == pytest.approx(measures["headbreadth"] + 0.004 + 0.012, abs=0.003)
    assert hood[:, 0].max() == pytest.approx(heights["vertex"] + 0.006, abs=0.004)
    assert hood[:, 1].max() == pytest.approx(-hood[:, 1].min(), abs=1e-9)


def test_gloves_are_on_the_hands(single):
    assembled = single("suit.gloves_thickness=5 mm")
    gloves, body = item(assembled, "gloves"), assembled.worn.body
    left = gloves.mesh.vertices[gloves.mesh.vertices[:, 1] > 0.0]
    middle = 0.5 * (body.joints["left wrist"] + body.landmarks["left fingertip"])
    assert left.mean(axis=0) == pytest.approx(middle, abs=0.06)
    assert gloves.cm[1] == pytest.approx(0.0, abs=1e-9)
    # fingers down on the hanging arm, the palm toward the thigh: wider to the front than across
    hand = on_segment(assembled, "left hand", left)
    assert np.ptp(hand[:, 2]) > 1.5 * np.ptp(hand[:, 1])


def test_boots_have_a_sole_under_the_foot_and_end_16_cm_over_it(single):
    assembled = single("suit=trilaminate", "pose.name=upright")
    boots = item(assembled, "boots").mesh.vertices
    left = on_segment(assembled, "left foot", boots[boots[:, 1] > 0.0])
    heights = assembled.worn.body.person.skeleton.heights
    # the tread is drawn 4 mm thick below its frame
    assert left[:, 0].min() == pytest.approx(heights["floor"] - SOLE - 0.004, abs=1e-3)
    assert left[:, 0].max() == pytest.approx(heights["floor"] - SOLE + SHAFT, abs=0.01)
