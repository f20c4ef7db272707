"""The measures model: conditioning against other formulas, contradiction, order of a human body."""

from typing import get_args

import numpy as np
import pytest
from scipy.stats import chi2

from meshes.body.measures import MeasureName
from sim.person.measures import (
    contradiction,
    estimated_measures,
    measures_model,
    reading_sd,
)

GIVEN = {"waistcircumference": 0.86, "crotchheight": 0.83, "age": 45.0, "span": 1.86}


def free(sex="male", stature=1.80, mass=82.0):
    return estimated_measures(sex, stature, mass)


def test_model_is_whole():
    model = measures_model()
    assert len(model.names) == len(model.labels) == 68
    assert len(set(model.names)) == 68
    for sex in (model.male, model.female):
        assert sex.coefficients.shape == (68, 3)
        np.testing.assert_array_equal(sex.correlation, sex.correlation.T)
        assert np.linalg.eigvalsh(sex.correlation).min() > 0.04  # 0.047 and 0.055 as derived
    assert "NATICK/TR-15/007" in model.source


def test_mean_is_the_line_of_the_source():
    """waist girth of a man by hand: intercept + slopes, from the file's own numbers."""
    model = measures_model().male
    i = measures_model().names.index("waistcircumference")
    b = model.coefficients[i]
    by_hand = b[0] + b[1] * (1.80 - 1.756) + b[2] * (np.sqrt(82.0 / 1.80) - 6.953)
    assert free().values()["waistcircumference"] == pytest.approx(by_hand, rel=1e-15)


@pytest.mark.parametrize("sex", ["male", "female"])
def test_conditioning_is_the_information_form(sex):
    """Posterior by adding precisions, a different formula from the gain used."""
    prior = free(sex)
    select = np.zeros((len(GIVEN), 68))
    select[np.arange(len(GIVEN)), [prior.names.index(n) for n in GIVEN]] = 1.0
    noise = np.array([reading_sd(n) for n in GIVEN])
    weighted = select.T / noise**2
    precision = np.linalg.inv(prior.covariance) + weighted @ select
    covariance = np.linalg.inv(precision)
    mean = covariance @ (np.linalg.solve(prior.covariance, prior.mean) + weighted @ np.array(list(GIVEN.values())))
    got = estimated_measures(sex, 1.80, 82.0, GIVEN)
    # Inverting a covariance of age in years beside millimetres loses some six digits
    np.testing.assert_allclose(got.mean, mean, rtol=1e-7)
    np.testing.assert_allclose(got.covariance, covariance, rtol=0, atol=1e-8)


def test_order_of_the_given_does_not_matter():
    turned = dict(reversed(GIVEN.items()))
    a, b = (estimated_measures("male", 1.80, 82.0, g) for g in (GIVEN, turned))
    np.testing.assert_allclose(a.mean, b.mean, rtol=1e-13)
    assert a.chi_square == pytest.approx(b.chi_square, rel=1e-12)


def test_a_sharp_reading_is_kept_and_a_blunt_one_ignored():
    sharp = estimated_measures("male", 1.80, 82.0, {"crotchheight": 0.90}, {"crotchheight": 1e-6})
    assert sharp.values()["crotchheight"] == pytest.approx(0.90, abs=1e-8)
    assert sharp.standard_deviation("crotchheight") < 1e-5
    blunt = estimated_measures("male", 1.80, 82.0, {"crotchheight": 0.90}, {"crotchheight": 1e3})
    np.testing.assert_allclose(blunt.mean, free().mean, rtol=0, atol=1e-6)


def test_what_is_given_never_adds_spread():
    narrowed = np.linalg.eigvalsh(free().covariance - estimated_measures("male", 1.80, 82.0, GIVEN).covariance)
    assert narrowed.min() > -1e-12


def test_widening_is_narrower_readings_and_a_wider_answer():
    """Prior f s with readings r is f times prior s with readings r / f, about the same mean."""
    f = 1.25
    wide = estimated_measures("female", 1.66, 58.0, GIVEN, widened=f)
    narrow = estimated_measures("female", 1.66, 58.0, GIVEN, {n: reading_sd(n) / f for n in GIVEN})
    np.testing.assert_allclose(wide.mean, narrow.mean, rtol=1e-12)
    np.testing.assert_allclose(wide.covariance, f**2 * narrow.covariance, rtol=1e-9, atol=1e-15)
    assert wide.chi_square == pytest.approx(narrow.chi_square / f**2, rel=1e-12)


def test_combination_of_measures():
    """A torso length from C7 to the iliac crest, given as a difference of heights."""
    length = ((1.0, "cervicaleheight"), (-1.0, "iliocristaleheight"))
    got = estimated_measures("male", 1.80, 82.0, {length: 0.50}, {length: 1e-6}).values()
    assert got["cervicaleheight"] - got["iliocristaleheight"] == pytest.approx(0.50, abs=1e-8)


def test_chi_square_of_one_given_is_its_innovation_squared():
    got = estimated_measures("male", 1.80, 82.0, {"waistcircumference": 0.58})
    z = got.innovations["waistcircumference"]
    assert got.chi_square == pytest.approx(z**2, rel=1e-12)
    assert z < -4.0


def test_contradiction_names_the_worst_and_agrees_with_scipy():
    typed = estimated_measures("male", 1.80, 82.0, {"waistcircumference": 0.58, "crotchheight": 0.85})
    said = contradiction(typed)
    assert said is not None
    assert "'waistcircumference'" in said
    assert "smaller" in said
    assert chi2.sf(typed.chi_square, 2) < 1e-4
    fine = estimated_measures("male", 1.80, 82.0, GIVEN)
    assert contradiction(fine) is None
    assert chi2.sf(fine.chi_square, 4) > 1e-4
    assert contradiction(free()) is None


def test_age_contradicts_nothing_and_the_rest_is_judged_at_that_age():
    assert contradiction(estimated_measures("male", 1.80, 82.0, {"age": 60.0})) is None
    waist = 1.02
    both = estimated_measures("male", 1.80, 82.0, {"age": 60.0, "waistcircumference": waist})
    aged = estimated_measures("male", 1.80, 82.0, {"age": 60.0})
    spread = np.hypot(aged.standard_deviation("waistcircumference"), reading_sd("waistcircumference"))
    z = (waist - aged.values()["waistcircumference"]) / spread
    assert both.chi_square - both.innovations["age"] ** 2 == pytest.approx(z**2, rel=1e-6)
    assert (contradiction(both) is None) == (chi2.sf(z**2, 1) >= 1e-4)


@pytest.mark.parametrize("sex", ["male", "female"])
def test_bodies_are_in_order_over_the_whole_range(sex):
    order = [
        "lateralmalleolusheight", "tibialheight", "lateralfemoralepicondyleheight", "crotchheight",
        "trochanterionheight", "waistheightomphalion", "tenthribheight", "chestheight", "axillaheight",
        "acromialheight", "cervicaleheight",
    ]  # fmt: skip
    for stature in (1.45, 1.60, 1.75, 1.90, 2.05):
        for bmi in (17.0, 22.0, 30.0, 42.0):
            m = estimated_measures(sex, stature, bmi * stature**2).values()
            heights = [m[n] for n in order]
            assert (np.diff([0.0, *heights, stature]) > 0.0).all()
            assert min(m.values()) > 0.0


def test_reading_errors():
    assert reading_sd("handlength") == 0.005  # m (engineering suggestion)
    assert reading_sd("age") == 0.5  # of a whole year
    assert reading_sd("waistbacklength") > reading_sd("waistcircumference") > reading_sd("calfcircumference")


@pytest.mark.parametrize(
    ("given", "reading", "said"),
    [
        ({"waist": 0.9}, {}, "'waist' is not a measure"),
        ({"span": float("nan")}, {}, "'span' is not a finite number"),
        ({"span": 1.8}, {"span": 0.0}, "reading SD of 'span' must be > 0"),
    ],
)
def test_bad_input(given, reading, said):
    with pytest.raises(ValueError, match=said):
        estimated_measures("male", 1.80, 82.0, given, reading)


def test_the_type_checker_knows_names_of_the_survey():
    assert {*get_args(MeasureName)} == {*measures_model().names}
