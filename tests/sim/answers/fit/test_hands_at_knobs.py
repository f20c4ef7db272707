"""All hands at all knobs in one go, against each by itself, the right hand's as that of a left one in the mirror."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.arm_chain import Capsule
from sim.answers.fit.arm_reach import reach_margin
from sim.answers.fit.dressed_person import dress_of, dressed_person
from sim.answers.fit.hands_at_knobs import at_every_knob
from sim.answers.fit.hung import hung_at
from sim.answers.fit.hung_rig import hung_rig
from sim.answers.fit.many_reaches import reach_margins
from sim.assembly.assembled import Assembled


@pytest.mark.parametrize("settings", [(), ("fit.stiff_right_shoulder=40 deg",)])
def test_each_hand_at_each_knob_is_as_by_itself(dressed, settings) -> None:
    made: Assembled = dressed("small-woman-steel", *settings)
    assert made.worn is not None
    who = dressed_person(made.worn.body.person, dress_of(made.worn))
    hung = hung_at(hung_rig("plate", made.worn), who, (0.0, 0.04))
    found = at_every_knob(hung, reach_margins)
    knobs, cylinders = hung.on_hanging(hung.rig.knobs), hung.on_hanging(hung.rig.cylinders.reshape(-1, 3))
    for way, knob, hand in np.ndindex(found.shape):
        side, flip = (("left", np.ones(3)), ("right", np.array([1.0, -1.0, 1.0])))[hand]
        if side not in hung.rig.hands[knob]:
            assert found[way, knob, hand] == -np.inf
            continue
        bars = tuple(
            Capsule(low * flip, high * flip, hung.rig.radius) for low, high in cylinders[way].reshape(-1, 2, 3)
        )
        arm = replace(who.arms[side], bars=(*who.arms[side].bars, *bars))
        # a knob tried in the mirror is the same but for rounding, which can flip the last trial of 0.6 mm
        assert found[way, knob, hand] == pytest.approx(reach_margin(arm, knobs[way, knob] * flip), abs=1e-3)
