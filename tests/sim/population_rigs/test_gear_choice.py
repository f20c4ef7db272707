"""Expanded rigs against rigs assembled in full."""

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.reading import read_file
from sim.assembly.posed_diver import posed_diver
from sim.assembly.scenario_rig import assembled_scenario
from sim.batch.flat import flat_answers
from sim.batch.rig_arrays import stacked
from sim.population_rigs.gear_choice import built_people, gear_choice, spread_people
from sim.population_rigs.people import features, people_arrays
from sim.population_rigs.rig_rows import arrays_of, row_of

FEW = 40  # people built: too few for a fine answer, enough to see that nothing is lost or turned round


@pytest.fixture(scope="module")
def scenario():
    return read_file(demo_path("small-woman-carbon")).content


@pytest.fixture(scope="module")
def built(scenario):
    return built_people("female", scenario, FEW)


@pytest.fixture(scope="module")
def choice(scenario, built):
    return gear_choice(scenario, built)


def test_rows_hold_all_that_the_statics_asks(scenario, built):
    """Without any expansion the arrays give the rig's own answers, to rounding."""
    people = built.people
    divers = [scenario.model_copy(update={"diver": people.diver(i, scenario.diver)}) for i in range(3)]
    rigs = [assembled_scenario(s, "", wearer=w).rig for s, w in zip(divers, built.wearers, strict=False)]
    rows = np.array([row_of(w.body, r) for w, r in zip(built.wearers, rigs, strict=False)])
    first = people_arrays(
        "female", people.height[:3], people.mass[:3], measures=people.measures[:3], age=people.age[:3],
        density=people.density[:3], lung_gas=people.lung_gas[:3],
    )  # fmt: skip
    ours, true = flat_answers(arrays_of(first, rows, rigs[0])), flat_answers(stacked(rigs))
    for name in ("pitch_moment", "roll_moment", "pitch_stiffness", "suit_gas", "wing_gas", "net_buoyancy"):
        np.testing.assert_allclose(getattr(ours, name), getattr(true, name), rtol=1e-9, atol=1e-9, err_msg=name)


def test_people_never_built_come_out_as_when_left_out(scenario, choice):
    """The error stated for people left out is the error on others: three times its RMS bounds six strangers' RMS."""
    people = spread_people("female", scenario, 6, 4321)
    divers = [scenario.model_copy(update={"diver": people.diver(i, scenario.diver)}) for i in range(6)]
    true = flat_answers(stacked([assembled_scenario(s, "", wearer=posed_diver(s)).rig for s in divers]))
    ours = flat_answers(choice.rigs(people))
    off = np.sqrt(np.mean((ours.pitch_moment - true.pitch_moment) ** 2))
    assert off < 3.0 * choice.error.moment[0]
    assert np.sqrt(np.mean((ours.suit_gas - true.suit_gas) ** 2)) < 3.0 * choice.error.suit_gas[0]


def test_the_expansion_beats_taking_everybody_for_the_mean_person(choice, built):
    """Of so few people it leaves a sixth of the variance of the moment unexplained; of 240, a hundredth."""
    moments = flat_answers(choice.rigs(built.people)).pitch_moment
    assert choice.error.moment[0] ** 2 < 0.5 * np.var(moments)


def test_features_are_of_one_person_each(built):
    """A crowd gives the same numbers as its members by themselves."""
    whole = features(built.people)
    p = built.people
    one = people_arrays(
        "female", p.height[5], p.mass[5], measures=p.measures[5:6], age=p.age[5], density=p.density[5],
        lung_gas=p.lung_gas[5],
    )  # fmt: skip
    np.testing.assert_array_equal(features(one)[0], whole[5])


def test_the_other_sex_is_refused(choice):
    with pytest.raises(ValueError, match="expanded over people of sex 'female'"):
        choice.rigs(people_arrays("male", [1.8], [80.0]))


@pytest.mark.parametrize(("height", "mass"), [(np.nan, 60.0), (1.7, -1.0)])
def test_impossible_people_are_refused(height, mass):
    with pytest.raises(ValueError):  # noqa: PT011
        people_arrays("female", [height], [mass])
