"""A scenario: the straight lines against full assembly, and what the answer names."""

from dataclasses import replace

import numpy as np
import pytest

from scenarios.by_key import told_otherwise, told_value
from scenarios.demos import demo_path
from scenarios.models import Scenario
from scenarios.reading import read_file, scenario_of
from scenarios.table import all_spreads
from sim.assembly.scenario_rig import assembled_scenario
from sim.case import Case
from sim.person.measures import estimated_measures, measures_model, reading_sd
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.body import LEADING, density_pair, measures_spread, person_of_scenario, pinned
from sim.uncertainty.outcomes import outcomes
from sim.uncertainty.rig_numbers import numbers_of, rig_of_numbers
from sim.uncertainty.sampling import spread_points
from sim.uncertainty.uncertain_rig import stated_pairs, uncertain_scenario
from sim.uncertainty.uncertain_settle import answered
from sim.uncertainty.variants import Pair, UnvariedError, lines_through

DEMO = demo_path("small-woman-carbon")
STATED = ("lead.1.mass=0.5 kg", 'lead.0.mass="2.5 +- 0.5 kg"', "lead.0.place=belt")


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    return read_file(DEMO, STATED).content


@pytest.fixture(scope="module")
def unknown(scenario):
    """Everything that may be otherwise with the demo diver, whose lead was weighed badly."""
    return uncertain_scenario(scenario, Case.read(DEMO, STATED).assembled.rig)


def moment_of(rig) -> float:
    return flat_answer(soft_rig(rig)).pitch_moment


def test_the_middle_is_the_answer_as_told(unknown):
    middle = unknown.drawn(np.zeros(len(unknown.variates)))
    # sums of moments of up to 1e3 N m in another order
    assert moment_of(middle) == pytest.approx(moment_of(unknown.like), abs=1e-9)


def test_first_order_bodies_agree_with_assembled_ones(scenario, unknown):
    """Six bodies drawn from the survey's spread of the leading measures, built anew and by the straight lines."""
    names = measures_model().names
    covariance = measures_spread(scenario.diver).covariance
    at = [names.index(n) for n in LEADING]
    body = pinned(scenario, person_of_scenario(scenario))
    ours, theirs = [], []
    for z in np.random.default_rng(5).normal(size=(6, len(at))):
        draw = np.zeros(len(unknown.variates))
        draw[unknown.measures.at] = z
        ours.append(moment_of(unknown.drawn(draw)))
        change = np.linalg.solve(covariance[np.ix_(at, at)], covariance[at]).T @ unknown.measures.loading @ z
        by_name = dict(zip(names, change, strict=True))
        built = {k: v + float(by_name[k]) for k, v in body.diver.measures.items()}
        other = scenario.model_copy(update={"diver": body.diver.model_copy(update={"measures": built})})
        theirs.append(moment_of(assembled_scenario(other, "").rig))
    # A plate rests on the two most prominent places of the back and presses on the patches under it: those steps, and
    # curvature, are what a straight line misses. 0.3 of the bodies' own SD is a tenth of their variance, and the
    # bodies are about a fifth of the whole: 2 % of the variance, 1 % of the band.
    told = moment_of(unknown.like)
    assert np.sqrt(np.mean(np.subtract(ours, theirs) ** 2)) < 0.3 * np.sqrt(np.mean(np.subtract(theirs, told) ** 2))
    assert np.corrcoef(ours, theirs)[0, 1] > 0.95


def test_a_diver_whose_age_is_not_told(scenario):
    """As a new file has it: the age that goes with the body is held, so that only what is varied changes."""
    ageless = scenario.model_copy(update={"diver": scenario.diver.model_copy(update={"age": None})})
    told = person_of_scenario(ageless)
    held = person_of_scenario(pinned(ageless, told))
    assert held.age == told.age
    assert held.measures == pytest.approx(dict(told.measures), abs=1e-12)
    assert held.body_density == told.body_density
    assert held.lung_gas == told.lung_gas


def test_stated_lead_is_exact(scenario, unknown):
    (line,) = [v.numbers for v in unknown.variates if v.name == "lead.0.mass"]
    heavier = assembled_scenario(told_otherwise(scenario, "lead.0.mass", 3.0), "").rig
    theirs = moment_of(replace(heavier, suit=unknown.like.suit))
    ours = moment_of(rig_of_numbers(unknown.base + line, unknown.like))
    # mass and first moment are linear in the lead; the suit's gas, comfortable at the new held point, is to 0.01 N m
    assert ours == pytest.approx(theirs, abs=0.01)
    assert (unknown.base + line)[0] == pytest.approx(numbers_of(heavier)[0], rel=1e-12)


def test_moved_lead_is_exact(unknown):
    (moved,) = [v.numbers for v in unknown.variates if v.name == "place of lead, belt"]
    (lead,) = [p.solid for p in unknown.like.parts if p.name == "lead, belt"]
    step = moved[1] / lead.mass
    assert step == pytest.approx(0.02 / 1.6448536)
    assert moved[5] == pytest.approx(lead.volume * step)


def test_every_source_of_doubt_is_there_once(unknown):
    names = [v.name for v in unknown.variates]
    assert len(set(names)) == len(names)
    assert {
        "navel height", "body density", "gas in the lungs", "CB over CM of the bare body", "stiffness of the suit",
        "posture of the last venting", "setting of the exhaust valve", "thickness of the undergarment",
        "undergarment on arms and legs", "how wide the suit is cut", "gas held in the boots",
        "how tight the gaiters are", "garment on small reversals", "height of the plate", "lead.0.mass",
        "place of lead, belt", "place of canister light",
    } <= set(names)  # fmt: skip
    assert [v.name for v in unknown.variates if v.shape == "from nil"] == ["garment on small reversals"]


def test_a_garment_stiffer_on_reversal_moves_no_moment(unknown):
    """It takes less off the stiffness near flat: 1/3 of what the suit's gas takes, at three times as stiff."""
    draw = np.zeros((2, len(unknown.variates)))
    draw[1, [v.name for v in unknown.variates].index("garment on small reversals")] = 1.0
    found = outcomes(unknown, draw)
    assert found.moment[0] == found.moment[1]
    assert found.pitch[0] == found.pitch[1]
    taken = flat_answer(soft_rig(unknown.like)).suit_pitch_gas
    assert found.stiffness[1] - found.stiffness[0] == pytest.approx(taken * 2.0 / 3.0, rel=1e-6)


def test_shares_add_up(unknown):
    z = spread_points([v.shape for v in unknown.variates], 512)
    answer = answered(unknown, z, outcomes(unknown, z))
    one_by_one = {*unknown.measures.names}
    total = sum(u.share for u in answer.unknowns if u.name not in one_by_one)
    # first-order shares of independent unknowns add up to 1 less what only their joint change does; the cubic fits
    # take along 3 of 512 degrees of freedom for each of about 18 columns, by chance
    assert 0.95 < total < 1.0 + 3 * z.shape[1] / 512
    assert answer.moment.low < answer.moment.told < answer.moment.high
    assert [u.share for u in answer.unknowns] == sorted((u.share for u in answer.unknowns), reverse=True)


def test_a_civilian_spreads_wider_and_a_measured_one_less(scenario):
    names = measures_model().names
    navel = names.index("waistheightomphalion")
    bare = scenario.diver.model_copy(update={"measures": {}, "age": None})
    survey = estimated_measures(bare.sex, bare.height, bare.mass).covariance
    assert np.allclose(measures_spread(bare).covariance, 1.25**2 * survey, rtol=1e-12)
    taken = bare.model_copy(update={"measures": {"waistheightomphalion": 1.0}})
    # conditioning a Gaussian of SD s on a reading of SD r leaves s r / sqrt(s^2 + r^2)
    s, r = 1.25 * np.sqrt(survey[navel, navel]), reading_sd("waistheightomphalion")
    assert measures_spread(taken).standard_deviation("waistheightomphalion") == pytest.approx(
        s * r / np.hypot(s, r), rel=1e-9
    )


def unknowns_of(demo, settings, monkeypatch):
    """What may be otherwise by name, without the work of building the variants."""
    monkeypatch.setattr("sim.uncertainty.uncertain_rig.lines_through", lambda pairs, *_: [np.zeros(1) for _ in pairs])
    content = read_file(demo, settings).content
    return content, {v.name: v for v in uncertain_scenario(content, Case.read(demo, settings).assembled.rig).variates}


def test_stated_spreads_replace_the_assumed_ones(monkeypatch):
    settings = ('diver.lung_gas="3 +- 0.2 l"', 'suit.gas="8 +- 1 l"', 'suit.undergarment.stiffness="500 +- 50 Pa"')
    _, found = unknowns_of(DEMO, settings, monkeypatch)
    assert {"diver.lung_gas", "suit.gas", "suit.undergarment.stiffness"} <= found.keys()
    assert not {"gas in the lungs", "gas in the suit", "stiffness of the suit"} & found.keys()


def test_cylinders_are_moved_in_their_bands_unless_it_is_told_where_they_are(monkeypatch):
    _, told = unknowns_of(DEMO, (), monkeypatch)
    _, untold = unknowns_of(demo_path("single-wetsuit"), (), monkeypatch)
    _, spread = unknowns_of(DEMO, ('cylinders.shift="-2.5 +- 1 cm"',), monkeypatch)
    name = "height of the cylinders on the plate"
    assert name not in told
    assert name in untold
    assert "cylinders.shift" in spread
    assert name not in spread


def test_a_spread_that_nothing_hangs_on_replaces_nothing(monkeypatch):
    _, found = unknowns_of(DEMO, ('suit.softness="600 +- 50 Pa"',), monkeypatch)
    assert {"suit.softness", "stiffness of the suit"} <= found.keys()


def test_measures_stated_with_a_spread_are_varied_by_themselves(monkeypatch):
    """Whichever they are, and the others go along as with a measure that is known."""
    settings = ('diver.measures.waist_girth="72 +- 3 cm"', 'diver.measures.thigh_girth="58 +- 2 cm"')
    settings += ('diver.age="34 +- 3 years"',)
    content, found = unknowns_of(DEMO, settings, monkeypatch)
    assert {"diver.measures.waist_girth", "diver.measures.thigh_girth", "diver.age"} <= found.keys()
    assert "thigh girth" not in found
    spread = measures_spread(content.diver)
    assert spread.standard_deviation("waistcircumference") < 1e-5
    assert spread.standard_deviation("thighcircumference") < 1e-5


def test_a_waist_stated_loosely_moves_shape_and_density():
    """All that hangs on it: a centimetre is 2.2 kg/m^3 of a man's density by the regression, and shape."""
    settings = ('diver.measures.waist_girth="84 +- 4 cm"',)
    path = demo_path("tall-man-carbon")
    content = read_file(path, settings).content
    (pair,) = [p for p in stated_pairs(content) if p.name == "diver.measures.waist_girth"]
    wide, narrow = (person_of_scenario(t) for t in (pair.plus, pair.minus))
    assert wide.body_density - narrow.body_density == pytest.approx(-219.92 * 0.08, rel=1e-9)
    (line,) = lines_through([pair])
    rig = Case.read(path, settings).assembled.rig
    moved = rig_of_numbers(numbers_of(rig) + line, rig)
    assert abs(moment_of(moved) - moment_of(rig)) > 0.1


def test_an_age_that_is_not_told_widens_the_density(scenario):
    ageless = scenario.model_copy(update={"diver": scenario.diver.model_copy(update={"age": None})})
    one, other = (density_pair(s, person_of_scenario(s)) for s in (scenario, ageless))
    assert "age not told" in other.basis
    sd = [float(p.basis.split()[1]) for p in (one, other)]
    # 0.23 % fat a year (Deurenberg 1991), 10 years: 5 kg/m^3 beside the regression's own
    assert sd[1] == pytest.approx(np.hypot(person_of_scenario(ageless).density_sd, 5.0), abs=1.0)


@pytest.mark.parametrize("key", ["lead.0.mass", "diver.mass", "diver.measures.waistcircumference", "water.depth"])
def test_told_otherwise_changes_one_value_only(scenario, key):
    changed = told_otherwise(scenario, key, 1.25)
    assert told_value(changed, key) == 1.25
    assert told_otherwise(changed, key, told_value(scenario, key)) == scenario
    assert all_spreads(changed) == all_spreads(scenario)


def test_a_doubtful_body_is_warned_of_by_name():
    notes = Case.read(DEMO, ['diver.measures.waist_girth="104 cm"']).assembled.notes
    assert any("hardly belong to one person" in n and "'waist girth' is" in n for n in notes)
    notes = Case.read(DEMO, ['diver.mass="115 kg"', 'diver.measures.waist_girth="115 cm"']).assembled.notes
    assert sum("BMI" in n and "outside" in n for n in notes) == 1
    notes = Case.read(DEMO, ['diver.height="187 cm"', 'diver.mass="70 kg"', 'diver.age="70 years"']).assembled.notes
    assert any("taller than 1.85 m" in n for n in notes)
    assert any("as for 60 years" in n for n in notes)
    assert not any("hardly belong" in n for n in notes)  # old, but not contradictory


def test_a_spread_that_cannot_be_built_is_told_by_its_key(scenario):
    heavy = Pair("diver.mass", "as stated", told_otherwise(scenario, "diver.mass", 178.0), scenario)
    with pytest.raises(UnvariedError, match="BMI") as refused:
        lines_through([heavy])
    assert refused.value.key == "diver.mass"


def test_variants_of_one_body_share_it_and_come_out_the_same(scenario):
    heard = []
    pairs = [
        Pair(key, "", told_otherwise(scenario, key, now + step), told_otherwise(scenario, key, now - step))
        for key, now, step in (("harness.drop", 0.0, 0.01), ("lead.0.mass", 2.5, 0.5), ("diver.mass", 58.0, 1.0))
    ]
    together = lines_through(pairs, None, heard.append)
    alone = [lines_through([p])[0] for p in pairs]
    assert all(np.array_equal(a, b) for a, b in zip(together, alone, strict=True))
    assert heard == pytest.approx([4 / 6, 5 / 6, 1.0])  # four on one body, then two bodies


def density_spread(**told):
    """SD of the density [kg/m^3] in whole numbers, and its reason, of a diver told so."""
    content = scenario_of({"diver": {"sex": "female", "height": "166 cm", "mass": "58 kg"} | told})
    pair = density_pair(content, person_of_scenario(content))
    return float(pair.basis.split()[1]), pair.basis


def test_what_is_known_of_the_fat_says_how_sure_the_density_is():
    """Siri's 495/density - 450 falls by 220 kg/m^3 a unit of fat at 24 %; the equation itself is 8 unsure."""
    stated, why = density_spread(body_fat="24 +- 3 %")
    assert stated == pytest.approx(np.hypot(8.0, 49.5e6 / 474.0**2 * 0.03), abs=0.5)
    assert "fat stated" in why
    assert density_spread(body_fat="24 %")[0] == 8.0
    trained, why = density_spread(trained=True, age="30 years")
    assert (trained, "trained" in why) == (12.0, True)  # 11.8
    # ten years unknown, 0.23 % of fat each, on top of it
    older, why = density_spread(trained=True)
    assert older == pytest.approx(np.hypot(11.8, 10.0 * 0.0023 * 49.5e6 / 469.0**2), abs=0.7)
    assert why.endswith("age not told")


def test_a_mans_measured_waist_leaves_no_doubt_of_age_in_the_density():
    """The rule by waist and mass does not know the age."""
    man = {"sex": "male", "height": "180 cm", "mass": "80 kg"}
    assert density_spread(**man, measures={"waist_girth": "88 cm"})[0] == 10.0  # 10.2
    assert density_spread(**man)[0] == pytest.approx(np.hypot(12.1, 10.0 * 0.298), abs=0.5)
