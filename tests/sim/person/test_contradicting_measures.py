"""Measures that no one person has are refused: which do not belong together, and what would."""

import numpy as np
import pytest

from sim.person.measures import estimated_measures, impossibility, reading_sd
from sim.person.person import person_of

GIVEN = {"waistcircumference": 0.95, "waistdepth": 0.24, "waistbreadth": 0.33, "crotchheight": 0.84, "span": 1.83}


def estimate(given):
    return estimated_measures("male", 1.80, 82.0, given)


@pytest.mark.parametrize("name", GIVEN)
def test_each_value_beside_the_others_is_what_the_others_alone_let_expect(name):
    """By conditioning on the others, which is another way to the same numbers."""
    told = estimate(GIVEN).beside[name]
    others = estimate({n: v for n, v in GIVEN.items() if n != name})
    sd = np.hypot(others.standard_deviation(name), reading_sd(name))
    assert told.expected == pytest.approx(others.values()[name], rel=1e-10)
    assert told.sd == pytest.approx(sd, rel=1e-9)
    assert told.surprise == pytest.approx((GIVEN[name] - others.values()[name]) / sd, rel=1e-7)
    without = {
        n: abs(estimate({k: v for k, v in GIVEN.items() if k != n}).beside[name].surprise) for n in GIVEN if n != name
    }
    assert told.foe == min(without, key=without.get)
    assert told.alone == pytest.approx(without[told.foe], rel=1e-7)


def test_two_that_do_not_belong_together_are_both_named_and_either_mend_is_taken():
    """Buttocks 19 cm above the hip joint: each alone is believable, and so is either once the other is mended."""
    given = {"buttockheight": 1.02, "trochanterionheight": 0.83, "span": 1.83}
    for name in given:
        assert person_of("male", 1.80, 82.0, measures={name: given[name]}).measures[name] == given[name]
    with pytest.raises(ValueError, match="do not belong together") as refused:
        person_of("male", 1.80, 82.0, measures=given)
    said = str(refused.value)
    assert "'buttockheight' = 1.02 m" in said
    assert "'trochanterionheight' = 0.83 m" in said
    assert "'span'" not in said
    for name in ("buttockheight", "trochanterionheight"):
        mended = estimated_measures("male", 1.80, 82.0, given, widened=1.25).beside[name].expected
        assert person_of("male", 1.80, 82.0, measures=given | {name: mended}).measures[name] == mended


def test_what_belongs_together_is_not_refused_and_the_least_likely_is_named_where_no_body_can_be_made():
    assert impossibility(estimate(GIVEN), GIVEN) is None
    assert impossibility(estimate({}), {}) is None
    worst = max(GIVEN, key=lambda n: abs(estimate(GIVEN).beside[n].surprise))
    assert f"'{worst}'" in impossibility(estimate(GIVEN), GIVEN, built=False)


def test_a_measure_against_all_others_is_named_alone():
    plain = person_of("female", 1.66, 60.0)
    heights = [n for n in plain.measures if n.endswith("height")]
    given = {n: plain.measures[n] for n in heights} | {"acromialheight": plain.measures["acromialheight"] - 0.13}
    with pytest.raises(ValueError, match=r"'acromialheight'.*believable") as refused:
        person_of("female", 1.66, 60.0, measures=given)
    assert all(f"'{n}'" not in str(refused.value) for n in heights if n != "acromialheight")


@pytest.mark.parametrize("age", range(20, 70, 2))
def test_who_is_just_as_expected_is_believed(age: int) -> None:
    """All measures told back as they were estimated: a chi-square of nil, which rounding may put below."""
    before = person_of("male", 1.82, 80.0, age=float(age))
    told = {k: v for k, v in before.measures.items() if k != "age"}
    again = person_of("male", 1.82, 80.0, age=float(age), measures=told)
    assert again.measures["waistcircumference"] == pytest.approx(before.measures["waistcircumference"], abs=1e-6)
