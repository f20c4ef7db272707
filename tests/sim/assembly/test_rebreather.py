"""A rebreather: what it weighs and displaces by hand, and a breath that moves between lungs and counterlungs."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.posture.reposed import reposed
from sim.assembly.refilled import gas_sources, near_empty, refilled
from sim.case import Case
from sim.rig import Part, Rig
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

LOOP = Case.read(demo_path("rebreather"), ["diver.tidal_volume=0.8 l"])
BARE = LOOP.vary(["suit=none"])  # clothes are cut to the body, and that is a little wider breathed in
DRAWN = 2e-4  # m: breathed in, the trunk is drawn wider, and all that lies on it moves so much
CLOTH = 1150.0  # kg/m^3


def parts_of(case: Case) -> dict[str, Part]:
    return {p.name: p for p in case.rig.parts}


def displaced(rig: Rig) -> float:
    return rig.whole.volume


@pytest.mark.parametrize(("level", "chest"), [("relaxed", 0.0), ("mid-breath", 0.4), ("breathed in", 0.8)])
def test_counterlungs_hold_the_breath_that_the_lungs_do_not(level: str, chest: float) -> None:
    """Of 2 l beyond the relaxed chest, a breath of 0.8 l; the bags' cloth is 1.5 kg."""
    bags = parts_of(LOOP.vary([f"diver.breathing_level={level}"]))["counterlungs"].solid
    assert bags.volume == pytest.approx(1e-3 * (2.0 - chest) + 1.5 / CLOTH, abs=1e-12)
    assert bags.mass == pytest.approx(1.5, rel=1e-12)


def test_a_breath_lifts_nobody_with_a_rebreather_and_lifts_others() -> None:
    """Out and in again: lungs and counterlungs hold the same together, to 1e-12 of all that is displaced."""
    levels = ("relaxed", "breathed in", "full", "empty", "relaxed")
    room = ["rebreather.loop_gas=4 l"]
    whole = [displaced(BARE.vary([*room, f"diver.breathing_level={level}"]).rig) for level in levels]
    assert whole == pytest.approx([whole[0]] * 5, rel=1e-12)
    others = [displaced(BARE.vary(["rebreather=none", f"diver.breathing_level={level}"]).rig) for level in levels]
    assert others[1] - others[0] == pytest.approx(0.8e-3, abs=1e-12)


def test_lungs_and_counterlungs_are_one_amount_of_gas() -> None:
    """What leaves the chest, read off the body, is what the bags gain."""
    out, full = (LOOP.vary([f"diver.breathing_level={level}"]).assembled for level in ("relaxed", "breathed in"))
    assert out.worn is not None
    assert full.worn is not None
    lungs = full.worn.body.lungs.volume - out.worn.body.lungs.volume
    bags = [next(p.solid.volume for p in a.rig.parts if p.kind == "counterlungs") for a in (out, full)]
    assert lungs == pytest.approx(0.8e-3, abs=1e-12)
    assert lungs + bags[1] - bags[0] == pytest.approx(0.0, abs=1e-12 * 1e-3)


def test_a_breath_turns_by_the_way_its_gas_goes() -> None:
    """From the bags' middle to where the chest's walls move: the shift of the CB times all that is displaced."""
    rigs = [BARE.vary([f"diver.breathing_level={level}"]) for level in ("relaxed", "breathed in")]
    moved = rigs[1].rig.whole.volume * (rigs[1].rig.whole.cb - rigs[0].rig.whole.cb)
    lungs = [a.assembled.worn.body.lungs for a in rigs if a.assembled.worn is not None]
    bag = parts_of(rigs[0])["counterlungs"].solid
    hand = lungs[1].volume * lungs[1].cb - lungs[0].volume * lungs[0].cb - 0.8e-3 * bag.cb
    assert moved == pytest.approx(hand, abs=DRAWN * rigs[0].rig.whole.volume)


def test_the_breath_as_a_lever_of_posture_takes_gas_out_of_the_bags() -> None:
    """As if the file said that breath: the same moment as the diver laid out anew."""
    relaxed = BARE.vary(["diver.breathing_level=relaxed", "wing.gas=3 l"])
    full = BARE.vary(["diver.breathing_level=breathed in", "wing.gas=3 l"])
    lever = reposed(relaxed).breathed(0.8e-3)
    assert lever.whole.volume == pytest.approx(full.rig.whole.volume, rel=1e-12)
    assert lever.whole.cb == pytest.approx(full.rig.whole.cb, abs=DRAWN)


@pytest.mark.parametrize(("place", "front"), [("back", False), ("shoulders", True), ("chest", True)])
def test_bags_lie_where_they_are_said_to(place: str, front: bool) -> None:
    bag = parts_of(LOOP.vary([f"rebreather.counterlungs={place}"]))["counterlungs"].solid
    assert abs(bag.cb[1]) < 1e-6
    assert (bag.cb[2] < -0.05) == front
    assert 0.2 < bag.cb[0] < 0.6  # between waist and shoulders


def test_counterlungs_on_the_back_right_a_diver_who_rolls_and_those_on_the_chest_do_not() -> None:
    """Face down, gas on the back is high and holds level; gas on the chest is low and rolls on."""
    stiff = {
        place: flat_answer(
            soft_rig(LOOP.vary([f"rebreather.counterlungs={place}", "wing.gas=2 l"]).rig)
        ).roll_stiffness
        for place in ("back", "chest")
    }
    assert stiff["back"] > stiff["chest"]


def test_the_canister_keeps_its_volume_of_water_out() -> None:
    """A litre more displaces a litre more there; a kilogram of absorbent less weighs that."""
    plain = parts_of(LOOP)["canister"].solid
    larger = parts_of(LOOP.vary(["rebreather.watertight_volume=10 l"]))["canister"].solid
    assert larger.volume - plain.volume == pytest.approx(1e-3, abs=1e-12)
    lighter = parts_of(LOOP.vary(["rebreather.absorbent_mass=1.5 kg"]))["canister"].solid
    assert plain.mass == pytest.approx(11.5, rel=1e-12)
    assert plain.mass - lighter.mass == pytest.approx(1.0, rel=1e-12)
    assert abs(plain.cm[1]) < 1e-6
    assert plain.cm[2] > 0.1  # behind the back
    table, worn = LOOP.scenario("").rebreather, LOOP.worn
    assert table is not None
    assert worn is not None
    assert plain.mesh is not None
    size = np.ptp(plain.mesh.vertices @ worn.seat.rotation, axis=0)
    assert size == pytest.approx(
        [table.canister_length, *[table.canister_diameter] * 2], rel=0.005
    )  # round by facets


def test_small_cylinders_stand_valve_down_beside_the_canister_and_empty_like_others() -> None:
    parts = parts_of(LOOP)
    oxygen, diluent = parts["oxygen cylinder"].solid, parts["diluent cylinder"].solid
    assert oxygen.cb == pytest.approx(diluent.cb * [1.0, -1.0, 1.0], abs=1e-6)
    assert diluent.cb[1] == pytest.approx(0.5 * 0.17 + 0.01 + 0.05, abs=1e-6)
    valve = parts["valve and first stage of oxygen cylinder"].solid
    assert valve.cm[0] < oxygen.cm[0] - 0.2
    sources = gas_sources(LOOP.scenario(""))
    assert [s.name for s in sources] == ["oxygen of the rebreather", "diluent of the rebreather", "bail-out"]
    emptied = {p.name: p for p in refilled(LOOP.rig, near_empty(sources, 50e5)).parts}
    for name, source in zip(("oxygen in oxygen cylinder", "air in diluent cylinder"), sources, strict=False):
        assert emptied[name].solid.mass == pytest.approx(source.mass(50e5), rel=1e-12)
    anew = LOOP.vary(["rebreather.oxygen.pressure=50 bar"])
    assert emptied["oxygen in oxygen cylinder"].solid.mass == pytest.approx(
        parts_of(anew)["oxygen in oxygen cylinder"].solid.mass, rel=1e-12
    )


@pytest.mark.parametrize(
    ("settings", "says"),
    [
        (
            ["diver.breathing_level=full"],
            r"rebreather.loop_gas.*nothing: the chest takes \d\.\d l of the 2\.0 l.*say more loop_gas",
        ),
        (
            ["rebreather.loop_gas=5.9 l", "diver.breathing_level=empty"],
            r"would hold \d\.\d l, and there is room for 6\.0 l.*say less loop_gas",
        ),
        (["rebreather.loop_gas=7 l"], r"counterlungs hold 6 l at most"),
        (["rebreather.watertight_volume=38 l"], r"takes 9\.5 l, and watertight_volume is 38\.0 l"),
        (["cylinders=twin steel 12 l 232 bar"], r"cannot both be on the back"),
    ],
)
def test_what_cannot_be_is_told_with_what_to_do(settings: list[str], says: str) -> None:
    with pytest.raises(ScenarioError, match=says):
        _ = LOOP.vary(settings).rig


def test_what_the_chest_would_take_or_leave_is_told_as_the_lungs_have_it() -> None:
    """Read off the body of the same diver without a rebreather."""

    def lungs(level: str) -> float:
        worn = BARE.vary(["rebreather=none", f"diver.breathing_level={level}"]).worn
        assert worn is not None
        return 1e3 * worn.body.lungs.volume

    taken, left = lungs("full") - lungs("relaxed"), lungs("relaxed") - lungs("empty")
    with pytest.raises(ScenarioError, match=rf"takes {taken:.1f} l of the 2\.0 l"):
        _ = LOOP.vary(["diver.breathing_level=full"]).rig
    with pytest.raises(ScenarioError, match=rf"would hold {5.9 + left:.1f} l, and"):
        _ = LOOP.vary(["rebreather.loop_gas=5.9 l", "diver.breathing_level=empty"]).rig
