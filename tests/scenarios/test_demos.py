"""The demo scenarios can be read, differ only in what they are meant to, and say that the people are invented."""

import numpy as np
import pytest

from scenarios.demos import SHOWS, demo_names, demo_path
from scenarios.reading import read_file, read_scenario
from sim.answers.change.occasions import met
from sim.answers.posture.drift import balanced_moment
from sim.answers.posture.runaway import turning_of
from sim.case import Case
from sim.statics.field import field, soft_rig
from sim.statics.flat import flat_answer
from sim.statics.sphere import direction

DRY = [("small-woman-steel", "small-woman-carbon"), ("tall-man-steel", "tall-man-carbon")]


@pytest.mark.parametrize("name", demo_names())
def test_reads_without_a_note_and_says_the_person_is_invented(name):
    loaded = read_file(demo_path(name))
    assert loaded.notes == ()
    assert "person is invented" in demo_path(name).read_text(encoding="utf-8")
    assert loaded.content.title


def test_each_says_what_it_shows():
    assert set(demo_names()) == {name for pair in DRY for name in pair} | {
        "single-wetsuit",
        "loose-legs",
        "calibrated-diver",
        "side-hung",
        "rebreather",
    }
    assert set(SHOWS) == set(demo_names())


@pytest.mark.parametrize("name", ["small-woman-carbon", "tall-man-steel"])
def test_who_is_said_to_be_in_balance_is(name):
    moment = flat_answer(soft_rig(Case.read(demo_path(name)).assembled.rig)).pitch_moment
    assert abs(moment) < 3.0  # N m
    assert "in balance" in read_scenario(demo_path(name)).title


@pytest.mark.parametrize("name", ["side-hung", "rebreather"])
def test_who_is_said_to_hang_by_themselves_from_start_to_end_does(name):
    """Drifting by 30 degrees in no less than 4 s at the start and at the last stop, weighted right for it."""
    case = Case.read(demo_path(name))
    turning = turning_of(case.rig, flat_answer(soft_rig(case.rig)))
    on_both = met(case)
    assert on_both.worst <= balanced_moment(turning)
    assert abs(on_both.surplus) < 0.5  # kg, the lightest block that is sold everywhere
    assert "from start to end" in demo_path(name).read_text(encoding="utf-8")


def test_the_feet_of_loose_legs_hold_the_gas():
    """Gaiters take away more than a third of what turns him; in close legs and boots they do little."""

    def moment(*settings):
        return flat_answer(soft_rig(Case.read(demo_path("loose-legs"), settings).assembled.rig)).pitch_moment

    assert moment() < -25.0
    assert moment("suit.gaiters=true") - moment() > 10.0


def in_lower_legs(case, degrees):
    """Gas [l] in the lower legs and feet of a diver held so far head-down."""
    joints, cells = case.wearer.body.joints, case.rig.suit.cells
    shank = np.zeros(len(cells), dtype=bool)
    for side, own in (("left", cells[:, 1] > 0.0), ("right", cells[:, 1] <= 0.0)):
        knee, ankle = joints[f"{side} knee"], joints[f"{side} ankle"]
        along = (ankle - knee) / np.linalg.norm(ankle - knee)
        down = (cells - knee) @ along
        aside = np.linalg.norm(cells - knee - down[:, None] * along, axis=1)
        shank |= own & (down > 0.10) & (aside < 0.15)  # below the knee's own thickness
    up = np.atleast_2d(direction(-np.radians(degrees), 0.0))
    return 1e3 * float(field(soft_rig(case.rig), up).suit.volume[0, shank].sum())


def test_gas_in_the_feet_feeds_itself_and_gaiters_cure_it():
    """Common practice: the feet rise, gas runs to them and lifts them on; gaiters take a third or more of what is
    there and of what comes, and a fifth or more of what moving gas takes off the stiffness."""
    loose, strapped = (Case.read(demo_path("loose-legs"), s) for s in ((), ("suit.gaiters=true",)))
    tilts = (0.0, 10.0, 20.0, 30.0)
    fed, cured = ([in_lower_legs(case, tilt) for tilt in tilts] for case in (loose, strapped))
    assert (np.diff(fed) > 0.0).all()
    assert cured[0] < 2.0 / 3.0 * fed[0]
    assert cured[-1] - cured[0] < 2.0 / 3.0 * (fed[-1] - fed[0])
    taken = [flat_answer(soft_rig(case.rig)).suit_pitch_gas for case in (loose, strapped)]
    assert taken[1] < 0.8 * taken[0]


@pytest.mark.parametrize(("steel", "carbon"), DRY)
def test_a_pair_differs_by_plate_and_lead_alone(steel, carbon):
    one, other = read_scenario(demo_path(steel)), read_scenario(demo_path(carbon))
    differ = {k for k in type(one).model_fields if getattr(one, k) != getattr(other, k)}
    assert differ == {"title", "plate", "lead"}
    assert (one.plate.catalogue, other.plate.catalogue) == ("standard steel", "small carbon")
    # the kilograms the carbon plate saves are lead
    assert sum(x.mass for x in other.lead) - sum(x.mass for x in one.lead) == pytest.approx(2.5, rel=1e-15)


def test_woman_and_man_dive_the_same_gear_in_the_same_water():
    woman, man = read_scenario(demo_path("small-woman-steel")), read_scenario(demo_path("tall-man-steel"))
    differ = {k for k in type(woman).model_fields if getattr(woman, k) != getattr(man, k)}
    assert differ == {"title", "diver", "lead", "cylinders"}
    # the same set, banded for each: hers sits lower in its bands, his higher
    assert man.cylinders.model_copy(update={"shift": woman.cylinders.shift}) == woman.cylinders
    assert (woman.cylinders.shift, man.cylinders.shift) == (-0.025, 0.01)
    assert (woman.diver.height, woman.diver.mass) == (1.66, 58.0)
    assert (man.diver.height, man.diver.mass) == (1.90, 90.0)
    assert woman.cylinders.count == 2


def test_a_name_there_is_none_of():
    with pytest.raises(ValueError, match='there is no demo "giant"; known: calibrated-diver'):
        demo_path("giant")
