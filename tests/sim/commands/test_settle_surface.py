import json
from dataclasses import replace

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.settle.afloat.surface import surface_told
from sim.answers.settle.afloat.text import surface_lines
from sim.answers.settle.afloat.words import Lie, lies_of, verdict
from sim.assembly.afloat_attitudes import face
from sim.commands.main import main
from sim.telling.caution import CAUTION
from sim.telling.record import as_json

LYING = {
    "up", "pitch_deg", "roll_deg", "face", "trunk_from_vertical_deg", "mouth_above_water_mm", "chest_above_water_mm",
    "water_level_m", "displaced_l", "reserve_buoyancy_kg", "under_water", "joints_deg",
}  # fmt: skip
REST = LYING | {"reached_from", "stable", "least_stiffness_nm_per_rad"}
ATTITUDE = LYING | {"name", "moment_nm", "moment_kg_at_arms_length", "wing_moment_nm", "leads_to_rest", "stays"}
NAMES = ["face up", "upright", "face down", "on the side"]


@pytest.fixture(autouse=True)
def _unsettled(monkeypatch):
    """Leaves out the motion under water, which takes most of the time."""
    monkeypatch.setattr("sim.answers.settle.report.settle", lambda *_, **__: None)


@pytest.fixture(scope="module")
def surface(single_afloat):
    return surface_told(single_afloat())


def test_json_gets_one_more_object(capsys):
    demo = str(demo_path("small-woman-steel"))
    assert main(["settle", demo, "--json", "--surface"]) == 0
    found = json.loads(capsys.readouterr().out)
    surface = found["surface"]
    assert found["caution"] == CAUTION
    assert surface["outcome"] == "floats"
    assert surface["heavy_by_kg"] is None
    assert sorted(s for r in surface["rests"] for s in r["reached_from"]) == sorted(NAMES)
    assert [a["name"] for a in surface["attitudes"]] == NAMES
    for rest in surface["rests"]:
        assert rest.keys() == REST
        assert rest["stable"]
    for attitude in surface["attitudes"]:
        assert attitude.keys() == ATTITUDE
        rest = surface["rests"][attitude["leads_to_rest"]]
        assert attitude["name"] in rest["reached_from"]
    for lie in (*surface["rests"], *surface["attitudes"]):
        assert np.linalg.norm(lie["up"]) == pytest.approx(1.0, abs=1e-12)
        assert np.cos(np.radians(lie["trunk_from_vertical_deg"])) == pytest.approx(lie["up"][0], abs=1e-12)
        assert all(0.0 <= share <= 1.0 for share in lie["under_water"].values())
    assert main(["settle", demo, "--json"]) == 0
    assert "surface" not in json.loads(capsys.readouterr().out)


def test_a_moment_is_said_as_weight_on_the_divers_own_arm(surface):
    for attitude in surface.attitudes:
        weight = attitude.at_arms_length * 9.80665
        assert weight * surface.arm_length == pytest.approx(abs(attitude.moment), rel=1e-12)
    assert 0.6 < surface.arm_length < 0.75  # a man of 178 cm, shoulder to palm


def test_text_says_what_each_attitude_asks(surface):
    said = " ".join(" ".join(surface_lines(surface)).split())
    assert "Surface attitude: mouth height and trunk angle (wing blown up to its 15.0 l)" in said
    lying = surface.attitudes[0]
    assert lying.stays
    mouth = surface.rests[lying.leads_to_rest].lying.mouth_above_water
    assert f"lying back stays so, limp as well; mouth {1e3 * mouth:.0f} mm above the water" in said
    assert f"Leaning forward to upright is an effort: up to {surface.turning.sit_up:.0f} N m, like" in said
    pushed = surface.attitudes[1].moment
    assert f"Pushed forward, the face toward the water, with {pushed:.1f} N m, like" in said
    assert "kg held out at arm's length" in said
    assert "For reference only: for lifejackets the LSA Code (2.2) asks for a mouth 120 mm above the water" in said
    assert "A wing is not a lifejacket." in said


@pytest.mark.parametrize(
    ("still", "limp", "words"),
    [
        (20.0, 3.0, "stays so, limp as well"),
        (20.0, -3.0, "stays so with limbs kept still"),
        (-2.0, -3.0, "must be held: left alone, turns face down"),
    ],
)
def test_what_brings_a_diver_on_the_back_back(surface, still, limp, words):
    """As if it were so: what is said of lying back hangs on what rights a diver who is tipped a little."""
    down = next(i for i, r in enumerate(surface.rests) if r.lying.face == "down")
    attitude = replace(surface.attitudes[0], stays=False, leads_to_rest=down)
    turning = replace(surface.turning, rights_from_10_deg_limbs_still=still, rights_from_10_deg=limp)
    assert verdict(Lie(attitude.lying, attitude, None), replace(surface, turning=turning)) == words


def test_each_attitude_is_told_once_as_the_rest_it_is(surface):
    """Every rest and every attitude is in what is told, none twice; one that stays has the numbers of its rest."""
    lies = lies_of(surface)
    assert [lie.attitude.name for lie in lies if lie.attitude] == NAMES
    for lie in lies:
        if lie.attitude and lie.attitude.stays:
            assert lie.rest is surface.rests[lie.attitude.leads_to_rest]
            assert lie.lying is lie.rest.lying
    told_rests = [tuple(lie.lying.up) for lie in lies if lie.rest]
    assert sorted(told_rests) == sorted(tuple(r.lying.up) for r in surface.rests)


def test_a_rest_that_no_attitude_stays_in_is_told_besides(surface):
    """As if lying on the side led to the rest face down only: the rest on the side is told by itself."""
    leaving = replace(surface, attitudes=tuple(replace(a, stays=False) for a in surface.attitudes))
    assert len(lies_of(leaving)) == len(NAMES) + len(surface.rests)
    assert "reached from" in " ".join(surface_lines(leaving))


def test_a_sunk_diver_is_told_so(single_afloat):
    surface = surface_told(single_afloat("wing=none", "lead.0.mass=30 kg"))
    assert surface.outcome == "sinks"
    assert surface.rests == surface.attitudes == ()
    assert surface.heavy_by > 10.0
    said = " ".join(" ".join(surface_lines(surface)).split())
    assert f"The diver sinks: even so the whole is {surface.heavy_by:.1f} kg too heavy to float." in said
    told = as_json(surface)
    assert [told[k] for k in ("sit_up_nm", "turn_up_nm", "rights_from_10_deg_nm", "tips_back_from_deg")] == [None] * 4


def test_a_parts_file_is_refused_in_one_sentence(parts_file, capsys):
    assert main(["settle", str(parts_file), "--surface"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "--surface needs the shapes of body and gear, which a parts file has not" in err
    assert len(err.strip().splitlines()) == 1


@pytest.mark.parametrize(
    ("up", "word"),
    [
        ([0.1, 0.0, -0.99], "up"),
        ([-0.7, 0.1, 0.7], "down"),
        ([0.99, 0.05, 0.1], "forward"),
        ([0.1, -0.99, 0.05], "to the side"),
        ([0.02, 0.92, -0.38], "to the side"),
        ([0.1, 0.4, -0.9], "up"),
    ],
)
def test_which_way_the_face_looks(up, word):
    assert face(np.array(up)) == word


def test_not_asked_for_is_not_told():
    assert surface_lines(None) == []
