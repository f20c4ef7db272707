"""What was learnt, as effects on a rig: each by its closed form."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.known import Effect
from sim.assembly.learnt import with_effects
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer


@pytest.fixture
def rig(make_rig):
    return make_rig(3, law="garment", gas_density=2.0)


def budget(rig):
    """Mass, its first moment along the body, volume and its first moment."""
    whole = rig.whole
    return np.array([whole.mass, whole.mass * whole.cm[0], whole.volume, whole.volume * whole.cb[0]])


@pytest.mark.parametrize(
    ("effect", "moved"),
    [
        (Effect(what="cb", amount=0.01), lambda m, v: [0.0, 0.0, 0.0, 0.01 * v("trunk")]),
        (Effect(what="cm", of="twins", amount=0.01), lambda m, v: [0.0, 0.01 * m("twins"), 0.0, 0.0]),
        (
            Effect(what="moved", of="belt; twins", amount=-0.02),
            lambda m, v: [0.0, -0.02 * (m("belt") + m("twins")), 0.0, -0.02 * (v("belt") + v("twins"))],
        ),
        (Effect(what="moved", of="nothing of this name", amount=1.0), lambda m, v: [0.0] * 4),
    ],
)
def test_what_is_moved_takes_its_first_moment_along(rig, effect, moved):
    by_name = {p.name: p.solid for p in rig.parts}
    wanted = moved(lambda n: by_name[n].mass, lambda n: by_name[n].volume)
    np.testing.assert_allclose(budget(with_effects(rig, (effect,))) - budget(rig), wanted, atol=1e-12)


def test_body_s_cb_turns_by_the_water_it_displaces(rig):
    """10 mm headward: rho g V dx."""
    now, then = (
        flat_answer(soft_rig(r)).pitch_moment for r in (rig, with_effects(rig, (Effect(what="cb", amount=0.01),)))
    )
    volume = next(p.solid.volume for p in rig.parts if p.kind == "body")
    assert then - now == pytest.approx(rig.water.density * rig.water.gravity * volume * 0.01, rel=1e-6)


def test_the_suit_is_stiffened_and_filled(rig):
    changed = with_effects(rig, (Effect(what="stiffness", amount=np.log(2.0)), Effect(what="gas", amount=-0.25)))
    assert changed.suit.law.stiffness == pytest.approx(2.0 * rig.suit.law.stiffness)
    assert changed.suit.gas == pytest.approx(0.75 * rig.suit.gas)
    assert with_effects(rig, ()) is rig
