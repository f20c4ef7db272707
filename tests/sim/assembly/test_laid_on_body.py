"""What lies on the body lies on it and not in it: distances to the skin by trimesh."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from meshes.mesh import Floats
from scenarios.demos import demo_path
from sim.assembly.laid_on_body import laid_on_body, onto_skin
from sim.case import Case
from sim.person.posed_body import PosedBody

CLOSE = 0.006  # m: means over skin points 3 cm apart, whose chords lie 30^2 / (8 x 40) mm in a limb of 4 cm radius
CASES = [
    ("small-woman-steel", ()),  # a long hose round the body, a light with its cord, arms ahead
    ("small-woman-carbon", ("pose.name=upright",)),
    ("single-wetsuit", ("diver.mass=130 kg",)),  # short hoses over the shoulder
    ("loose-legs", ()),
]


def over_skin(body: PosedBody, points: Floats) -> Floats:
    """(n,) [m] of points (n, 3), minus inside."""
    skin = trimesh.Trimesh(body.drawing.vertices, body.drawing.faces, process=False)
    return -trimesh.proximity.signed_distance(skin, points)


def worn(name: str, settings: tuple[str, ...] = ()) -> tuple[PosedBody, dict[str, Floats]]:
    """The body, and the points of what is worn by its name."""
    assembled = Case.read(demo_path(name), settings).assembled
    assert assembled.worn is not None
    return assembled.worn.body, {
        p.name: p.solid.mesh.vertices for p in assembled.rig.parts if p.solid.mesh is not None
    }


@pytest.mark.parametrize(("name", "settings"), CASES)
def test_no_hose_dives_into_the_diver(name: str, settings: tuple[str, ...]) -> None:
    body, things = worn(name, settings)
    assert over_skin(body, things["hoses"][::5]).min() > -CLOSE


def test_a_way_through_the_body_is_laid_on_it_and_ends_where_it_did() -> None:
    body, _ = worn("single-wetsuit")
    marks = body.landmarks
    way = np.array(
        [marks["c7"] + [0.0, 0.0, 0.1], marks["sternum"] + [0.0, -0.06, 0.06], marks["sternum"] - [0, 0, 0.1]]
    )
    assert over_skin(body, way[1:2])[0] < -0.04
    laid = laid_on_body(way, body, 0.02)
    assert laid[[0, -1]] == pytest.approx(way[[0, -1]], abs=1e-12)
    assert over_skin(body, laid).min() > 0.02 - CLOSE


def test_a_way_off_the_body_is_left_as_it_is_but_for_its_bends() -> None:
    body, _ = worn("single-wetsuit")
    way = np.array([[0.0, 0.0, 0.5], [0.3, 0.0, 0.5], [0.6, 0.0, 0.5]])
    laid = laid_on_body(way, body, 0.02)
    assert laid[:, 1:] == pytest.approx(np.broadcast_to([0.0, 0.5], (len(laid), 2)), abs=1e-12)


def test_what_is_strapped_on_touches_the_skin() -> None:
    body, _ = worn("single-wetsuit")
    for mark in ("left hip side", "sternum", "sacrum"):
        for shift in (-0.03, 0.0, 0.03):
            at = body.landmarks[mark] + shift * np.array([0.0, 1.0, 1.0])
            at = at + onto_skin(at[None], body, 0.03)
            assert over_skin(body, at[None])[0] == pytest.approx(0.03, abs=0.003)  # as above, of 1 cm


def test_a_light_lies_on_the_back_of_the_hand_and_its_canister_on_the_hip() -> None:
    """Least distance of either to the skin, where the mount is round the hand and may be drawn into it."""
    body, things = worn("small-woman-steel", ("suit.undergarment=none",))
    light = things["canister light"]
    tip = body.landmarks["right fingertip"]
    head = light[np.linalg.norm(light - tip, axis=1) < 0.16]
    canister = light[np.linalg.norm(light - body.landmarks["right hip side"], axis=1) < 0.2]
    assert len(head) > 100
    assert np.abs(over_skin(body, head)).min() < 0.004
    assert -0.012 < over_skin(body, canister).min() < CLOSE
