"""A case: read once, varied without reading or building again what stays the same, and never changed itself."""

import dataclasses

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from scenarios.quantities import SI
from scenarios.understood import digest
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

WOMAN = demo_path("small-woman-steel")


@pytest.fixture(scope="module")
def woman():
    return Case.read(WOMAN)


def moment(case):
    return flat_answer(soft_rig(case.rig)).pitch_moment


@pytest.fixture
def no_files(monkeypatch):
    """Nothing is read from here on."""
    monkeypatch.setattr("scenarios.reading.read_toml", lambda path: pytest.fail(f"{path} was read"))


CHANGES = [
    {"plate": "small carbon"},
    {"plate.catalogue": "small carbon"},
    {"cylinders.pressure": "50 bar", "lead.0.mass": "1 kg", "lead.0.place": "belt"},
    {"harness.shoulder_strap": "52 cm"},
    {"suit": "none", "wing": "none"},
    {"pose.joints.left knee flexion": "20 deg", "diver.mass": "61 kg"},
]


@pytest.mark.parametrize("changes", CHANGES)
def test_varying_is_reading_with_the_same_settings(woman, changes):
    texts = [f"{key}={value}" for key, value in changes.items()]
    read, varied = Case.read(WOMAN, texts), woman.vary(changes)
    assert digest(varied.content) == digest(read.content) == digest(woman.vary(texts).content)
    assert digest(varied.content) != digest(woman.content)
    assert varied.told.notes == read.told.notes


def test_a_rig_that_was_varied_is_the_one_that_is_read(woman):
    changes = CHANGES[-1]
    read = Case.read(WOMAN, [f"{key}={value}" for key, value in changes.items()])
    assert moment(woman.vary(changes)) == moment(read) != moment(woman)


def test_one_after_another_is_both_at_once(woman):
    one, two = {"plate": "small carbon"}, {"cylinders.pressure": "50 bar"}
    assert digest(woman.vary(one).vary(two).content) == digest(woman.vary(one | two).content)


def test_varying_reads_no_file_and_leaves_the_case_as_it_was(woman, no_files):
    before = digest(woman.content), moment(woman)
    other = woman.vary({"diver.mass": "70 kg", "lead.0.place": "tail", "lead.0.mass": "2 kg"})
    assert moment(other) != before[1]
    assert (digest(woman.content), moment(woman)) == before
    with pytest.raises(dataclasses.FrozenInstanceError):
        woman.told = other.told


def test_a_value_in_si_is_the_same_as_its_text(woman):
    said, put = woman.vary({"cylinders.pressure": "50 bar"}), woman.vary({"cylinders.pressure": SI(5e6)})
    assert digest(said.content) == digest(put.content)
    with pytest.raises(ScenarioError, match=r"(?s)--set cylinders\.pressure.*not believable"):
        woman.vary({"cylinders.pressure": SI(np.nan)})


def test_the_height_of_the_rig_is_said_once(woman):
    """Whichever of the two is said last takes the place of the other."""
    strap = woman.vary({"harness.shoulder_strap": "52 cm"})
    assert strap.vary({"harness.drop": "3 cm"}).worn.drop == 0.03


def test_a_person_is_built_once_for_all_who_say_the_same_of_them(monkeypatch):
    from sim.assembly import posed_diver

    built, posed = [], []
    real_person, real_pose = posed_diver.person_from, posed_diver.posed_body
    monkeypatch.setattr(posed_diver, "person_from", lambda diver: built.append(diver) or real_person(diver))
    monkeypatch.setattr(posed_diver, "posed_body", lambda *how: posed.append(how) or real_pose(*how))
    case = Case.read(WOMAN)
    heavier = case.vary({"diver.mass": "61 kg"})
    for one in (
        case,
        case.vary({"plate": "small carbon"}),
        case.vary({"pose.joints.left knee flexion": "20 deg"}),
        heavier,
        heavier.vary({"diver.mass": "58 kg"}),  # as in the file, in other words: the same person
    ):
        assert one.wearer.body.skin.area.sum() > 1.0
    assert len(built) == 2
    assert len(posed) == 3
    assert case.vary({"plate": "none"}).wearer is case.wearer


WRONG = [
    ("plate=nonesuch", "--set plate=nonesuch"),
    ("lead.9.mass=1 kg", "leads nowhere"),
    ("suit.widths.calf=13 cm", "--set suit.widths.calf=13 cm"),
    ("gear=[{ name = 'x', mass = '1 kg', volume = '1 l', at = [9.0, 0.0, 0.0] }]", "gear.0.at"),
    ("lead=[{ mass = '70 kg', place = 'belt' }]", "lead"),
    ("known=nowhere.toml", "known"),
]


@pytest.mark.parametrize(("setting", "words"), WRONG)
def test_a_change_that_cannot_be_is_blamed_as_when_it_is_read(woman, setting, words):
    with pytest.raises(ScenarioError, match=words) as varied:
        _ = woman.vary([setting]).rig
    with pytest.raises(ScenarioError) as read:
        _ = Case.read(WOMAN, [setting]).rig
    assert str(varied.value) == str(read.value)


def test_a_number_without_unit_is_refused(woman):
    with pytest.raises(ScenarioError, match="has no unit"):
        woman.vary({"diver.mass": 60})


def test_what_is_not_varied_is_not_checked_again(woman):
    other = woman.vary({"cylinders.pressure": "50 bar"})
    assert other.content.diver is woman.content.diver
    assert other.content.suit is woman.content.suit
    assert other.content.cylinders != woman.content.cylinders


PARTS = """\
format = "parts/1"
water = { density = "1000 kg/m^3" }
depth = { pressure = "2 bar" }
part = [{ name = "float", mass = "100 kg", cm = [0.0, 0.0, 0.0], volume = "100 l", cb = [0.05, 0.0, 0.0] }]
"""


def test_a_parts_file_has_a_rig_and_no_person(tmp_path):
    """By hand: 1000 kg/m^3 x 9.80665 m/s^2 x 0.1 m^3 x 0.05 m, and half of that with half the arm."""
    (tmp_path / "float.toml").write_text(PARTS, encoding="utf-8")
    case = Case.read(tmp_path / "float.toml")
    assert case.wearer is None
    assert case.worn is None
    assert moment(case) == pytest.approx(49.03325, rel=1e-12)
    assert moment(case.vary({"part.0.cb": [0.025, 0.0, 0.0]})) == pytest.approx(0.5 * 49.03325, rel=1e-12)
    with pytest.raises(ScenarioError, match="a diver is wanted"):
        case.scenario("a diver is wanted")
