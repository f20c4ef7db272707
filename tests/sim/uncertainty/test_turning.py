"""The first rest on the way from flat, against the search for all held pitches."""

import numpy as np
import pytest

from meshes.solid import Solid
from sim.rig import Part, Water, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.statics.held import held_pitches
from sim.uncertainty.turning import rest_pitch

CLOSE = 1e-7  # rad, to which the program looks for a rest


def ballasted(arm: float, above: float):
    """100 kg and 100 l, CB ``arm`` [m] headward of the CM and ``above`` [m] over it."""
    solid = Solid(100.0, np.zeros(3), np.eye(3), 0.1, np.array([arm, 0.0, above]))
    return soft_rig(rig_of([Part("float", "other", solid)], Water(1000.0, 10.0, 2e5)))


@pytest.mark.parametrize("arm", [-0.05, -0.01, 0.02, 0.05])
def test_a_pendulum_comes_to_rest_under_its_centre_of_buoyancy(arm):
    soft = ballasted(arm, 0.04)
    moment = flat_answer(soft).pitch_moment
    assert moment == pytest.approx(1000.0 * arm)
    assert rest_pitch(soft, moment) == pytest.approx(np.arctan2(arm, 0.04), abs=10.0 * CLOSE)


def test_a_top_heavy_float_goes_over_the_way_it_is_turned():
    for arm in (-0.05, 0.05):
        soft = ballasted(arm, -0.04)
        assert rest_pitch(soft, flat_answer(soft).pitch_moment) == np.sign(arm) * np.inf


def test_without_a_moment_it_stays_flat():
    assert rest_pitch(ballasted(0.0, 0.04), 0.0) == 0.0


@pytest.mark.parametrize("seed", range(12))
def test_is_the_nearest_of_all_held_pitches_on_that_side(make_rig, seed):
    soft = soft_rig(make_rig(seed, law="garment" if seed % 2 else "logistic"))
    moment = flat_answer(soft).pitch_moment
    beside = [h.pitch for h in held_pitches(soft) if h.pitch * moment > 0.0]
    found = rest_pitch(soft, moment)
    if not beside:
        assert found == np.sign(moment) * np.inf
    else:
        assert found == pytest.approx(min(beside, key=abs), abs=10.0 * CLOSE)
