"""What hangs on a diver: where each place is, what a thing is drawn as, and the gas that it holds."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Mesh
from meshes.solid import Solid
from scenarios.demos import demo_path
from sim.case import Case
from sim.person.posed_body import PosedBody
from sim.rig import Part

SEA = 1026.2  # kg/m^3, the demo's water


SINGLE = Case.read(demo_path("single-wetsuit"))


def parts_with(*settings: str) -> dict[str, Part]:
    return {p.name: p for p in SINGLE.vary(settings).rig.parts}


def test_air_in_the_mask_floats_it() -> None:
    """0.12 to 0.2 l of air beside silicone and glass: a mask lifts the face by some 0.1 kg."""
    mask = parts_with()["mask"]
    air = mask.solid.volume - mask.solid.mass / 1400.0
    assert 0.12e-3 < air < 0.2e-3
    assert 0.05 < SEA * mask.solid.volume - mask.solid.mass < 0.15
    # the diver keeps it filled at any depth
    assert parts_with("water.depth=40 m")["mask"].solid.volume == mask.solid.volume


def test_gas_held_by_an_item_displaces_water_besides_its_density() -> None:
    bare = parts_with("gear.1.held_gas=0 l")["computer"]
    held = parts_with("gear.1.held_gas=0.3 l")["computer"]
    assert held.solid.volume - bare.solid.volume == pytest.approx(0.3e-3, rel=1e-12)
    assert held.solid.mass == bare.solid.mass
    # what was dunked and measured counts its gas already
    dunked = parts_with("gear.1.held_gas=0.3 l", "gear.1.volume=0.4 l")["computer"]
    assert dunked.solid.volume == pytest.approx(0.4e-3, rel=1e-12)


def thing(**told: str) -> Part:
    """A thing of half a litre and 1 kg, by the keys of its table."""
    keys = {"name": '"thing"', "mass": '"1 kg"', "volume": '"0.5 l"', **told}
    return parts_with("gear=[{ " + ", ".join(f"{k} = {v}" for k, v in keys.items()) + " }]")["thing"]


def test_an_egg_is_half_as_long_again_as_wide_and_as_large_as_the_water_it_displaces() -> None:
    solid = thing(place='"left hip"').solid
    assert (solid.mass, solid.volume) == (1.0, 0.5e-3)
    assert solid.mesh is not None
    size = np.ptp(solid.mesh.vertices, axis=0)
    # V = 4/3 pi 1.5 r^3
    radius = (0.5e-3 / (2.0 * np.pi)) ** (1.0 / 3.0)
    assert size == pytest.approx([3.0 * radius, 2.0 * radius, 2.0 * radius], rel=0.02)


@pytest.mark.parametrize(
    ("shape", "kind"),
    [("mask", "mask"), ("canister light", "light"), ("backup light", "light"), ("knife", "other"), ("egg", "other")],
)
def test_its_shape_says_what_kind_of_thing_it_is_and_its_name_does_not(shape: str, kind: str) -> None:
    part = thing(name='"thing"', place='"left hip"', shape=f'"{shape}"')
    assert part.kind == kind
    assert (part.solid.mass, part.solid.volume) == pytest.approx((1.0, 0.5e-3), rel=1e-12)
    named = parts_with('gear=[{ name = "light mask", mass = "1 kg", volume = "0.5 l", place = "left hip" }]')
    assert named["light mask"].kind == "other"


def test_what_is_worn_on_the_face_is_a_mask_unless_told_otherwise() -> None:
    assert thing(place='"face"').kind == "mask"
    assert thing(place='"face"', shape='"egg"').kind == "other"


def test_a_canister_lights_head_is_in_the_hand_of_its_side() -> None:
    """Its battery at the hip; the head with cord pulls what it weighs toward that hand."""
    body = SINGLE.wearer
    assert body is not None
    for side, other in (("left", "right"), ("right", "left")):
        solid = thing(place=f'"{side} hip"', shape='"canister light"').solid
        assert solid.mesh is not None
        near, far = (
            np.linalg.norm(solid.mesh.vertices - body.body.joints[f"{s} wrist"], axis=1).min() for s in (side, other)
        )
        assert near < 0.1 < far


def test_canister_lights_of_both_sides_are_mirror_images() -> None:
    left, right = (thing(place=f'"{side} hip"', shape='"canister light"').solid.cm for side in ("left", "right"))
    assert right == pytest.approx(left * [1.0, -1.0, 1.0], abs=5e-4)  # a canister and its cord are not quite


SIDED = ("hip", "shoulder", "thigh", "shank", "forearm")


@pytest.mark.parametrize("place", SIDED)
def test_left_and_right_places_are_mirror_images(place: str) -> None:
    left, right = (thing(place=f'"{side} {place}"').solid.cm for side in ("left", "right"))
    assert left[1] > 0.05
    assert right == pytest.approx(left * [1.0, -1.0, 1.0], abs=1e-9)


def lies_on_body(solid: Solid, at: ArrayLike, body: PosedBody) -> bool:
    """Whether an egg of half a litre, which told where it is worn would be half in the body, lies on it there.

    None of its corners (one in six is looked at) is in the body by the winding number, so by no skin's normal; one is
    within 10 mm of the skin: 5 mm of pressed suit, and what a skin's curve and its corners, up to 10 mm apart, leave.
    It went no further from the place than its own half length and a hand's breadth about a limb (10 cm).
    """
    assert solid.mesh is not None
    corners, skin = solid.mesh.vertices, body.drawing
    winding = np.array([_winding_number(corner, skin) for corner in corners[::6]])
    apart = np.linalg.norm(corners[:, None] - skin.vertices, axis=2).min()
    return bool(np.all(winding < 0.5) and apart < 0.010 and np.linalg.norm(solid.cm - at) < 0.10)


def _winding_number(at: Floats, skin: Mesh) -> float:
    """1 in a closed mesh, 0 outside: solid angles of its triangles (Van Oosterom and Strackee 1983)."""
    a, b, c = (skin.vertices[skin.faces[:, k]] - at for k in range(3))
    la, lb, lc = (np.linalg.norm(v, axis=1) for v in (a, b, c))
    over = (a * np.cross(b, c)).sum(axis=1)
    under = la * lb * lc + (a * b).sum(axis=1) * lc + (b * c).sum(axis=1) * la + (c * a).sum(axis=1) * lb
    return float(np.arctan2(over, under).sum() / (2.0 * np.pi))


def test_where_places_on_the_trunk_are() -> None:
    """By hand from the body's marks; offsets of a hand's breadth and the like are assumed. 5 mm of wetsuit."""
    wearer = SINGLE.wearer
    assert wearer is not None
    body, suit = wearer.body, 0.005
    heights, joints, marks = body.person.skeleton.heights, body.person.skeleton.joints, body.landmarks
    half = 0.5 * body.person.measures["hipbreadth"] + suit
    front, back = marks["sternum"][2] - suit, marks["sacrum"][2] + suit
    by_hand = {
        "chest": [heights["chest"], 0.0, front],
        "back": [heights["chest"], 0.0, back],
        "left hip": [marks["waist back"][0] - 0.06, half, marks["left hip side"][2]],
        "left shoulder": [heights["axilla"] + 0.03, 0.75 * joints["shoulder"][1], front + 0.03],
        "crotch strap": [heights["crotch"] + 0.04, 0.0, back],
    }
    for place, at in by_hand.items():
        assert lies_on_body(thing(place=f'"{place}"').solid, at, body), place


def test_where_places_on_limbs_are() -> None:
    """Upright, beside the limb: 10 cm off the hip joint, 6 cm off the calf, 5 cm off the forearm (assumed)."""
    upright = SINGLE.vary(["pose.name=upright"])
    wearer = upright.wearer
    assert wearer is not None
    j = wearer.body.person.skeleton.joints
    calf, arm = 0.6 * j["knee"] + 0.4 * j["ankle"], 0.3 * j["elbow"] + 0.7 * j["wrist"]
    thigh = 0.45 * j["hip"] + 0.55 * j["knee"]
    standing = {
        "thigh": [thigh[0], j["hip"][1] + 0.10, thigh[2]],
        "shank": [calf[0], calf[1] + 0.06, calf[2]],
        "forearm": [arm[0], arm[1] + 0.05, arm[2]],
    }
    for place, at in standing.items():
        told = f'gear=[{{ name = "thing", mass = "1 kg", volume = "0.5 l", place = "left {place}" }}]'
        solid = next(p.solid for p in upright.vary([told]).rig.parts if p.name == "thing")
        carried = wearer.body.placements[f"left {place}"].carried(np.array(at))
        assert lies_on_body(solid, carried, wearer.body), place


def test_put_by_hand_a_thing_is_where_it_was_put() -> None:
    assert thing(at="[0.1, -0.2, 0.05]").solid.cm == pytest.approx([0.1, -0.2, 0.05], abs=1e-12)


def test_a_knife_on_the_leg_is_on_the_shank() -> None:
    """Between knee and ankle of the leg it is strapped to, whichever way that is bent."""
    knife = 'gear=[{ catalogue = "knife on the leg" }]'
    for pose in ("flat, knees bent", "upright"):
        assembled = Case.read(demo_path("single-wetsuit"), (knife, f"pose.name={pose}")).assembled
        assert assembled.worn is not None
        joints = assembled.worn.body.joints
        knee, ankle = joints["right knee"], joints["right ankle"]
        where = next(p.solid.cm for p in assembled.rig.parts if p.name == "knife")
        along = (where - knee) @ (ankle - knee) / ((ankle - knee) @ (ankle - knee))
        assert 0.2 < along < 0.8
        off = np.linalg.norm(where - knee - along * (ankle - knee))
        assert 0.04 < off < 0.12  # beside a calf
