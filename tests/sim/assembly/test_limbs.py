"""Which limb carries what: made-up things that follow one limb or two, and the gear of a demo diver."""

import numpy as np
import pytest

from meshes.mesh import joined, moved
from meshes.primitives import box
from meshes.solid import solid_of
from sim.assembly.afloat import HANGING, SWUNG
from sim.assembly.limbs import LINK_OF, LINKS, borne, straightened
from sim.rig import Part


@pytest.fixture(scope="module")
def placed(dry_case):
    return dry_case.hanging.body.placements, dry_case.swung.body.placements


def carried(placements, segment, mesh):
    """A mesh of the standing body carried by a segment."""
    p = placements[segment]
    return moved(mesh, p.rotation, p.at - p.rotation @ p.pivot)


def thing(meshes):
    return Part("thing", "other", solid_of(joined(meshes), 1000.0))


@pytest.mark.parametrize("segment", [names[0] for names in LINKS])
def test_a_thing_goes_with_the_limb_that_moves_it(placed, segment):
    small = box([0.1, 0.05, 0.04], [-0.4, 0.1, 0.02])
    here, there = (thing([carried(p, segment, small)]) for p in placed)
    (found,) = borne(here, there, *placed)
    assert found.link == LINK_OF[segment]
    assert found.share == 1.0
    assert found.centre == pytest.approx(here.solid.cm)


def test_a_thing_in_two_pieces_is_shared_by_what_each_encloses(placed):
    """A large box on the trunk and one of a third of its volume on a hand: shares, and their balance at the CM."""
    large, small = box([0.3, 0.2, 0.1]), box([0.2, 0.1, 0.1], [-0.1, 0.25, 0.0])
    here, there = (
        thing([carried(p, "upper trunk", large), carried(p, "left hand", small)]) for p in placed
    )  # the hand goes with the forearm: both poses turn it alike
    found = {b.link: b for b in borne(here, there, *placed)}
    assert found.keys() == {0, LINK_OF["left hand"]}
    assert found[0].share == pytest.approx(0.75)
    balance = sum(b.share * b.centre for b in found.values())
    assert balance == pytest.approx(here.solid.cm, abs=1e-12)
    assert len(found[0].mesh.faces) == len(large.faces)


def test_straightened_undoes_the_pose(placed):
    points = np.random.default_rng(1).normal(size=(5, 3))
    for number, names in enumerate(LINKS):
        for placements in placed:
            assert placements[names[0]].carried(straightened(placements, number, points)) == pytest.approx(points)


def test_gear_of_a_diver(dry_case, placed):
    """Boots and fins with the feet, hood and mask with the head, gloves with the hands, the rig with the trunk."""
    wanted = {
        "boots": {"left foot", "right foot"}, "left fin": {"left foot"}, "right fin": {"right foot"},
        "hood": {"head"}, "mask": {"head"}, "gloves": {"left hand", "right hand"}, "plate": {"upper trunk"},
        "left cylinder": {"upper trunk"}, "wing": {"upper trunk"}, "harness": {"upper trunk"},
        "air in left cylinder": {"upper trunk"}, "manifold with valves": {"upper trunk"},
    }  # fmt: skip
    others = {p.name: p for p in dry_case.swung.assembled.rig.parts}
    seen = set()
    for part in dry_case.hanging.assembled.rig.parts:
        if part.name in wanted:
            seen.add(part.name)
            links = {b.link for b in borne(part, others[part.name], *placed)}
            assert links == {LINK_OF[s] for s in wanted[part.name]}, part.name
    assert seen == wanted.keys()


def test_every_joint_differs_between_the_two_poses():
    """Else what hangs on it could not be told from what it hangs on."""
    for side in ("left", "right"):
        one, other = getattr(HANGING, side), getattr(SWUNG, side)
        for name in ("elbow_flexion", "hip_flexion", "hip_abduction", "knee_flexion", "ankle_plantarflexion"):
            assert abs(getattr(one, name) - getattr(other, name)) > 0.3
        # the hand is told with the forearm, which it must not turn on
        assert (one.pronation, one.wrist_extension) == (other.pronation, other.wrist_extension)
