"""What is said of a diver who does not lie stable in roll."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.solid import Solid, point_mass
from sim.answers.settle.notes import notes_of
from sim.rig import Part, Rig, Water, rig_of
from sim.settling.settle import settle
from sim.statics.equilibria import equilibria
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

SAID = "Face down is not stable in roll"
AT = np.array([0.0, 0.0, 0.02])
FLOAT = Part("float", "body", Solid(mass=50.0, cm=AT, inertia=np.diag([2.0, 10.0, 10.0]), volume=0.1, cb=AT))


def rig_with(ballast: float) -> Rig:
    lead = Part("ballast", "lead", point_mass(50.0, np.array([0.0, 0.0, ballast])))
    return rig_of([FLOAT, lead], Water(1000.0, 10.0, 2e5))


SETTLED = settle(rig_with(-0.06))  # only whether and when it rolls is read of it


@pytest.mark.parametrize(("ballast", "rolled", "said"), [(-0.06, None, 0), (0.06, None, 1), (0.06, 4.0, 1)])
def test_whoever_lies_with_the_weight_above_the_lift_is_told_so_however_far_they_roll(ballast, rolled, said):
    """The centre of mass is above that of buoyancy, or below it; ``rolled`` : [s] to 30 degrees, None for never."""
    rig = rig_with(ballast)
    soft = soft_rig(rig)
    flat = flat_answer(soft)
    # 50 kg either way of the centre of buoyancy, which is the float's own: m g (z_CB - z_CM)
    assert flat.roll_stiffness == pytest.approx(50.0 * rig.water.gravity * (0.02 - ballast), rel=1e-6)
    free = replace(SETTLED, time_to_30_roll=rolled)
    notes = [n for n in notes_of(rig, flat, equilibria(soft), None, free) if n.startswith(SAID)]
    assert len(notes) == said
    assert all(("4 s" in n) == (rolled is not None) for n in notes)
