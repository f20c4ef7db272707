"""The freeze test by hand: the closed form itself, and the table beside the woman it was taken from."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from sim.answers.evidence.freeze import by_hand, by_program, inertia_and_drag, woman
from sim.answers.evidence.pendulums import time_to_turn
from sim.settling.extent import extents


@pytest.mark.parametrize(
    ("moment", "inertia", "resistance"), [(20.0, 40.0, 105.0), (2.0, 60.0, 1.0), (5.0, 8.0, 1e-4)]
)
def test_closed_form_against_integration(moment, inertia, resistance):
    angle = np.radians(30.0)
    time = time_to_turn(angle, moment, inertia, resistance)
    fall = solve_ivp(
        lambda _, y: [y[1], (moment - resistance * y[1] ** 2) / inertia],
        (0.0, time),
        [0.0, 0.0],
        rtol=1e-11,
        atol=1e-13,
    )
    assert fall.y[0, -1] == pytest.approx(angle, rel=1e-8)


def test_without_drag_it_falls_freely():
    free = time_to_turn(0.5, 10.0, 20.0, 0.0)
    assert free == pytest.approx(np.sqrt(2.0 * 0.5 * 20.0 / 10.0), rel=1e-14)
    assert time_to_turn(0.5, 10.0, 20.0, 1e-6) == pytest.approx(free, rel=1e-6)


def test_with_much_drag_it_turns_at_the_speed_that_drag_allows():
    moment, inertia, resistance, angle = 10.0, 1e-3, 50.0, 2.0
    # but for ln 2 of inertia over drag while it gathers speed
    steady = angle + np.log(2.0) * inertia / resistance
    assert time_to_turn(angle, moment, inertia, resistance) == pytest.approx(
        steady / np.sqrt(moment / resistance), rel=1e-9
    )


def test_the_hand_has_weighed_all_that_she_wears():
    rig = woman()
    assert sum(s.mass for s in by_hand()) == pytest.approx(rig.whole.mass, rel=0.03)
    # each of her items stands in one row
    assert sum(s.mass for s in by_program()) == pytest.approx(rig.whole.mass, rel=1e-9)
    inertia, drag = inertia_and_drag(rig)
    assert sum(s.inertia + s.water for s in by_program()) == pytest.approx(inertia, rel=1e-3)
    assert sum(s.drag for s in by_program()) == pytest.approx(drag, rel=1e-9)


def test_item_by_item():
    """Rounded sizes, rods and plates against meshes, ellipsoids and strips: 30 %, or what does not matter."""
    hand, program = list(by_hand()), list(by_program())
    fins = [i for i, s in enumerate(hand) if s.item.startswith("fins")]
    rest = [i for i in range(len(hand)) if i not in fins]
    pairs = [([hand[i]], [program[i]]) for i in rest] + [([hand[i] for i in fins], [program[i] for i in fins])]
    for ours, theirs in pairs:
        for what, slack in (("inertia", 0.2), ("water", 0.4), ("drag", 1.1)):
            a, b = (sum(getattr(s, what) for s in side) for side in (ours, theirs))
            assert a == pytest.approx(b, rel=0.3, abs=slack), (ours[0].item, what)


def test_her_fins_and_nothing_else_are_sheets():
    flat = [e for e in extents(woman()) if e.flat]
    assert len(flat) == 2
    assert all(e.centre[0] - woman().held[0] < -0.6 for e in flat)
