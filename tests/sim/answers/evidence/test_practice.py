"""Whole divers against practice: the weighing by hand, the means by what each must do."""

import numpy as np
import pytest

from sim.answers.evidence.practice import as_worn, flat_of, means, practice_path, weighed_lead, with_lead
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer


@pytest.mark.parametrize("letter", ["A", "G"])
def test_the_weighed_lead_makes_the_diver_neutral_at_four_metres(letter):
    """Hung on, at 4 m with 50 bar and an empty wing, it leaves nothing of the buoyancy (10 g: it is written so)."""
    lead = with_lead(weighed_lead(letter))
    hung = [*lead, "water.depth=4 m", "cylinders.pressure=50 bar", "wing.gas=0 l"]
    answer = flat_answer(soft_rig(Case.read(practice_path(letter), hung).assembled.rig))
    assert answer.net_buoyancy == pytest.approx(0.0, abs=0.02)
    assert answer.wing_gas == 0.0
    # at depth with full cylinders the wing floats the gas that is to be breathed, and what foam has lost
    assert as_worn(letter).wing_gas > 1e-3


def test_means_never_leave_lead_behind():
    for letter in "AG":
        worn = [sum(float(s.split("=")[1].split()[0]) for s in m if ".mass=" in s) for m in means(letter)]
        lead = weighed_lead(letter)
        assert worn[:-1] == pytest.approx([lead] * (len(worn) - 1), abs=0.011)
        assert worn[-1] == pytest.approx(lead + 1.0, abs=0.011)  # on the ankles


def test_every_means_helps_against_light_feet():
    moments = [flat_of("A", *m).pitch_moment for m in means("A")]
    assert (np.diff(moments) > 0.0).all()
    assert moments[0] > as_worn("A").pitch_moment
