"""The search for people that are not built and answers that jump: it finds what is there, and a little of it runs."""

import numpy as np
import pytest

from sim.person.person import person_of
from sim.person.population import drawn_people


@pytest.fixture
def search(script):
    return script("every_person")


@pytest.mark.parametrize("step", [0.001, 0.01], ids=["millimetres", "centimetres"])
def test_people_off_a_tape_are_built(search, step):
    people = [p for sex in ("female", "male") for p in drawn_people(sex, 12, seed=5)]
    assert search.built(people, step) == {"sound": 24}


def test_a_jump_is_found_and_what_is_only_steep_is_not(search):
    def answers(x):
        return {"jumps": x + 2e-4 * (x > 0.4321), "steep": np.tanh(20.0 * (x - 0.3)), "bent": 0.9 * abs(x - 0.51)}

    (jump,) = search.walked("x", answers, 0.0, 1.0)
    assert jump.margin == "jumps"
    assert jump.at < 0.4321 <= jump.at + jump.step
    assert jump.step == pytest.approx(1.0 / 8 / 2**12)
    assert jump.move == pytest.approx(2e-4, rel=1e-6)


def test_no_margin_jumps_where_landmarks_pass_each_other(search):
    """Neck and shoulders of a woman, walked through where a corner of the taut strap used to take another's place."""
    (who,) = drawn_people("female", 1, seed=3)

    def answers(value):
        return search.margins_of(person_of(who.sex, who.height, who.mass, measures=who.measures | {name: value}))

    name = "acromialheight"
    assert list(search.walked(name, answers, 1.460, 1.470)) == []


def test_measures_that_contradict_one_another_are_refused_by_name_or_built(search):
    ends = search.contradicting(60, 7)
    assert set(ends) <= {"built", "built, with a doubt", "refused by name"}
    assert min(ends.values()) > 5
