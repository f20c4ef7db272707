"""The list of demands: what it holds, and that its fast margins say the same as the answers for one diver."""

from __future__ import annotations

import pkgutil

import numpy as np
import pytest

import sim.answers.fit.demands as package
from scenarios.demos import demo_path
from sim.answers.fit.answer import fit_answer, found_on
from sim.answers.fit.demands.every import DEMANDS, FINDINGS, REASONS, failing_of
from sim.answers.fit.demands.looks_ahead import LOOKS_AHEAD
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.dressed_person import dress_of, dressed_person
from sim.answers.fit.hung import Hung, hung_at
from sim.answers.fit.hung_rig import hung_rig
from sim.answers.fit.look_ahead import ahead_margin
from sim.answers.fit.plate_on_person import margins
from sim.assembly.placement import Placement
from sim.assembly.seat import seated
from sim.case import Case

# m or rad, and why the fast margin may differ: buttocks are kept at a grid of 1 cm, flanks at one of 5 mm; a hand
# tried at a mirror image of a knob may flip the last trial by rounding
WITHIN = {"cylinder bottoms": 7e-4, "plate width": 5e-4, "reach": 1e-3, "look-ahead": 1e-6}


def test_whatever_has_a_file_is_in_the_list() -> None:
    files = {module.name for module in pkgutil.iter_modules(package.__path__)}
    beside = {"demand", "every", "plate_length", "together"}  # what they share
    assert {type(finding).__module__.rpartition(".")[2] for finding in FINDINGS} == files - beside
    assert len({finding.name for finding in FINDINGS}) == len(FINDINGS)
    assert len({demand.place for demand in DEMANDS}) == len(DEMANDS)


def test_every_reason_has_its_own_place_and_look() -> None:
    for told in ("name", "words", "place"):
        assert len({getattr(reason, told) for reason in REASONS}) == len(REASONS)
    assert len({reason.look.hatch for reason in REASONS}) == len(REASONS)
    assert len({reason.look.place for reason in REASONS}) == len(REASONS)


def test_what_some_are_left_out_of_is_the_rest() -> None:
    found = found_on(Case.read(demo_path("tall-man-steel"), ["plate=small steel", "plate.width=34 cm"]).assembled)
    assert failing_of(found) == ("plate width", "left valve", "right valve", "isolator")
    assert failing_of(found, but={"reach"}) == ("plate width",)


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
    assembled = Case.read(demo_path(demo), settings).assembled
    found, worn = found_on(assembled), assembled.worn
    assert worn is not None
    who = dressed_person(worn.body.person, dress_of(worn))
    fast = margins(hung_at(hung_rig("plate", worn), who, [worn.drop]))
    assert list(fast) == [demand.name for demand in DEMANDS]
    for demand in DEMANDS:
        one = demand.margin(found)
        assert fast[demand.name][0] == pytest.approx(one, abs=WITHIN.get(demand.name, 1e-9)), demand.name
        passes = [v.passes for v in demand.verdicts(found)]
        assert (one >= 0.0) == (False not in passes), demand.name
    assert [v.subject for v in fit_answer(assembled).verdicts if v.passes is False] == list(failing_of(found))


def test_one_rig_taken_off_and_hung_lower_is_the_rig_built_lower() -> None:
    high, low = (Case.read(demo_path("small-woman-steel"), [f'harness.drop="{d} cm"']).assembled.worn for d in (0, 5))
    assert high is not None
    assert low is not None
    who = dressed_person(high.body.person, dress_of(high))
    moved, built = (margins(hung_at(hung_rig("plate", w), who, [0.05])) for w in (high, low))
    for name, values in built.items():
        assert moved[name] == pytest.approx(values, abs=1e-6), name


def test_without_cylinders_nothing_is_reached_for() -> None:
    worn = Case.read(demo_path("small-woman-steel"), ["cylinders=none"]).assembled.worn
    assert worn is not None
    found = margins(hung_at(hung_rig("plate", worn), dressed_person(worn.body.person, dress_of(worn)), [0.0]))
    assert not {"reach", "cylinder bottoms"} & set(found)
    assert found["look-ahead"][0] > 0.0  # the plate alone is in nobody's way


def test_gear_that_the_head_never_meets_leaves_a_finite_margin() -> None:
    assert ahead_margin(np.inf, 1.0, -0.2) == pytest.approx(np.pi)
    assert ahead_margin(0.9, 1.0, -0.5) == pytest.approx(-0.1)


@pytest.mark.parametrize("demo", ["small-woman-steel", "tall-man-steel", "small-woman-carbon"])
def test_lower_on_the_same_slope_takes_reach_and_gives_sight(demo: str) -> None:
    """What must be monotone is. Along a curved back the plate's slope changes, too: high up it leans the valves away,
    so that the isolator alone may gain a little on the way down."""
    worn = Case.read(demo_path(demo)).assembled.worn
    assert worn is not None
    rig, who = hung_rig("plate", worn, 0.1), dressed_person(worn.body.person, dress_of(worn))
    usual = seated(worn.plate, worn.body, worn.padding, 0.0)
    lower = tuple(Placement(usual.rotation, usual.origin - [drop, 0.0, 0.0]) for drop in np.linspace(-0.05, 0.08, 14))
    ways = Hung(rig, who, lower, np.arange(14), np.zeros(14))
    reach = VALVE_REACH.margins(ways)
    assert (np.diff(reach[np.isfinite(reach)]) < 0.0).all()
    assert np.isfinite(reach).sum() > 10
    assert VALVE_REACH.met(ways).tolist() == (reach >= 0.0).tolist()
    assert (np.diff(LOOKS_AHEAD.margins(ways)) >= 0.0).all()
