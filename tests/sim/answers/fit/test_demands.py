"""The fast demands of a rig on a person say the same as the answers for one diver."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.demands import (
    BUTTOCKS,
    LOOK_AHEAD,
    PLATE_BOTTOM,
    PLATE_TOP,
    PLATE_WIDTH,
    REACH,
    SHOULDER_STRAPS,
    WAIST_STRAP,
    dress_of,
    hung_rig,
    look_ahead_at,
    margins,
    reach_at,
    wearing,
    within_reach,
)
from sim.answers.fit.limits import EASY_REACH
from sim.answers.fit.look_ahead import ahead_margin, look_ahead
from sim.answers.fit.on_back import on_back
from sim.answers.fit.reach import valve_reach
from sim.assembly.placement import Placement
from sim.assembly.seat import seated
from sim.case import Case


@pytest.mark.parametrize(
    ("demo", "settings"),
    [
        ("small-woman-steel", ()),
        ("small-woman-steel", ('harness.drop="3 cm"',)),
        ("tall-man-steel", ('fit.stiff_left_shoulder="25 deg"',)),
        ("single-wetsuit", ()),
    ],
)
def test_margins_are_those_of_the_answers(demo: str, settings: tuple[str, ...]) -> None:
    found = Case.read(demo_path(demo), settings).assembled
    worn = found.worn
    assert worn is not None
    fast = margins(hung_rig("plate", worn), wearing(worn.body, dress_of(worn)), [worn.drop])
    told = {v.subject: v.margin for v in on_back(worn).verdicts}
    # buttocks and flanks are kept at grids of 1 cm and 5 mm
    assert fast[BUTTOCKS][0] == pytest.approx(told["cylinder bottoms"], abs=7e-4)
    assert fast[PLATE_WIDTH][0] == pytest.approx(told["plate width"], abs=5e-4)
    assert fast[PLATE_TOP][0] == pytest.approx(told["plate top"], abs=1e-9)
    assert (fast[PLATE_BOTTOM][0] >= 0.0) == ("plate bottom" not in told)
    hands = valve_reach(worn).hands
    ahead = look_ahead(worn, found.rig)
    assert fast[WAIST_STRAP][0] == pytest.approx(told["waist strap"], abs=1e-12)
    assert fast[SHOULDER_STRAPS][0] == pytest.approx(told["shoulder straps"], abs=1e-9)
    # hands may be tried at a mirror image of the knob: the same but for rounding, which can flip the last trial
    assert fast[REACH][0] == pytest.approx(min(h.margin for h in hands) - EASY_REACH, abs=1e-3)
    assert fast[LOOK_AHEAD][0] == pytest.approx(ahead_margin(ahead.gear, ahead.free, ahead.ahead), abs=1e-6)


def test_one_rig_taken_off_and_hung_lower_is_the_rig_built_lower() -> None:
    high, low = (Case.read(demo_path("small-woman-steel"), [f'harness.drop="{d} cm"']).assembled.worn for d in (0, 5))
    assert high is not None
    assert low is not None
    who = wearing(high.body, dress_of(high))
    moved, built = (margins(hung_rig("plate", w), who, [0.05]) for w in (high, low))
    for name, values in built.items():
        assert moved[name] == pytest.approx(values, abs=1e-6), name


def test_without_cylinders_nothing_is_reached_for() -> None:
    worn = Case.read(demo_path("small-woman-steel"), ["cylinders=none"]).assembled.worn
    assert worn is not None
    found = margins(hung_rig("plate", worn), wearing(worn.body, dress_of(worn)), [0.0])
    assert REACH not in found
    assert found[LOOK_AHEAD][0] > 0.0  # the plate alone is in nobody's way


def test_gear_that_the_head_never_meets_leaves_a_finite_margin() -> None:
    assert ahead_margin(np.inf, 1.0, -0.2) == pytest.approx(np.pi)
    assert ahead_margin(0.9, 1.0, -0.5) == pytest.approx(-0.1)


@pytest.mark.parametrize("demo", ["small-woman-steel", "tall-man-steel", "small-woman-carbon"])
def test_lower_on_the_same_slope_takes_reach_and_gives_sight(demo: str) -> None:
    """What must be monotone is. Along a curved back the plate's slope changes, too: high up it leans the valves away,
    so that the isolator alone may gain a little on the way down."""
    worn = Case.read(demo_path(demo)).assembled.worn
    assert worn is not None
    rig, who = hung_rig("plate", worn, 0.1), wearing(worn.body, dress_of(worn))
    usual = seated(worn.plate, worn.body, worn.padding, 0.0)
    lower = [Placement(usual.rotation, usual.origin - [drop, 0.0, 0.0]) for drop in np.linspace(-0.05, 0.08, 14)]
    reach = np.array([reach_at(rig, who, seat) for seat in lower])
    assert (np.diff(reach[np.isfinite(reach)]) < 0.0).all()
    assert np.isfinite(reach).sum() > 10
    assert [within_reach(rig, who, seat) for seat in lower] == (reach >= 0.0).tolist()
    assert (np.diff([look_ahead_at(rig, who, seat) for seat in lower]) >= 0.0).all()
