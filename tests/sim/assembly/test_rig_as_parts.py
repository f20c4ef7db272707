"""A rig written out as a parts file and read again is the same rig to the statics."""

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.case import Case
from sim.statics.equilibria import equilibria
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget

CASES = {
    "undergarment": ("small-woman-steel", ()),
    "cut narrow, strapped": ("tall-man-carbon", ("suit.gaiters=true",)),
    "logistic, wing held": ("small-woman-carbon", ("suit.fill_law=logistic", "wing.gas=4 l")),
    "fitted to one diver": ("calibrated-diver", ()),
}
SAME = 1e-9  # relative: masses are added up in another order


@pytest.mark.parametrize("name", CASES)
def test_it_has_the_same_statics(name, tmp_path):
    demo, settings = CASES[name]
    case = Case.read(demo_path(demo), settings)
    (tmp_path / "parts.toml").write_text(case.as_parts(), encoding="utf-8")
    again = Case.read(tmp_path / "parts.toml")
    assert again.assembled.title == case.assembled.title
    assert not again.assembled.notes
    one, two = soft_rig(case.rig), soft_rig(again.rig)
    flat, same = flat_answer(one), flat_answer(two)
    for number in ("pitch_moment", "roll_moment", "pitch_stiffness", "roll_stiffness", "wing_gas", "suit_gas"):
        assert getattr(same, number) == pytest.approx(getattr(flat, number), rel=SAME, abs=SAME), number
    told = [(i.name, i.kind, i.moment) for i in moment_budget(one, flat)]
    assert [(i.name, i.kind, pytest.approx(i.moment, rel=SAME, abs=SAME)) for i in moment_budget(two, same)] == told
    rests, others = equilibria(one).found, equilibria(two).found
    assert [e.kind for e in others] == [e.kind for e in rests]
    assert np.allclose([e.up for e in others], [e.up for e in rests], rtol=0.0, atol=1e-7)
