"""The floating diver: wholly under water the rig of the statics, in any pose; gas; left and right."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from meshes.solid import point_mass, volume_integrals
from scenarios.demos import demo_path
from sim.assembly.afloat import HANGING, at_surface, diver_afloat
from sim.assembly.limbs import LINK_OF
from sim.assembly.limp_joints import angles_of
from sim.fill_laws import LogisticLaw
from sim.floating.articulated import at_angles, carried_point
from sim.floating.body import extent
from sim.floating.energy import afloat
from sim.person.pose import symmetric_pose
from sim.rig import Rig, SuitPocket, Water, WingPocket
from sim.statics.field import field, soft_rig
from tests.sim.assembly.conftest import NEAR, NECK, diver_of

BULKY = 2e-3  # m^3, from which on gear is clipped by the water as the shape it is

# arms stay down: the shoulder of the floating diver does not rise with them
BENT = symmetric_pose(
    radians(20.0), shoulder_flexion=radians(10.0), shoulder_abduction=radians(12.0), elbow_flexion=radians(60.0),
    pronation=radians(20.0), hip_flexion=radians(40.0), hip_abduction=radians(20.0), knee_flexion=radians(70.0),
    ankle_plantarflexion=radians(30.0),
)  # fmt: skip


def without_gas(rig):
    """Suit empty, wing taut: nothing moves."""
    room = float(rig.wing.law.most.sum())
    return replace(rig, suit=None, wing=replace(rig.wing, gas=room * (1.0 - 1e-12)))


def dry_diver(case):
    """The diver with no gas in the suit."""
    told = replace(case.told, rig=replace(case.told.rig, suit=None))
    return diver_afloat(told, case.hanging, case.swung, NEAR, NECK)


@pytest.mark.parametrize("pose", [HANGING, BENT], ids=["hanging", "bent"])
def test_wholly_under_water_it_is_the_rig_of_the_statics(afloat_case, pose):
    """Lift and moment far down, where no part is cut, are those of the rig put together anew in that pose.

    Hanging, as the limbs were taken from, but for half a millimetre by which the shoulders rise in the one: of arms
    that weigh 2 N in water, 0.01 N m. Bent, the skin that cloth and foam lie on, and hoses and belts, bend in the one
    and not in the other: 30 g and 2 N m of moments of hundreds.
    """
    diver, rig = dry_diver(afloat_case), without_gas(at_surface(afloat_case.dressed(pose).assembled.rig, NEAR))
    body = at_angles(diver.body, angles_of(diver.body.joints, pose))
    assert body.mass == pytest.approx(rig.whole.mass + rig.wing.gas_density * rig.wing.gas, abs=1e-9)
    lift, moment = (1e-9, 0.01) if pose is HANGING else (0.03, 2.0)
    for u in ([0.0, 0.0, 1.0], [0.6, 0.0, -0.8], [0.0, 1.0, 0.0]):
        up = np.array(u)
        found = afloat(body, up, extent(body, up)[1] + 0.1)
        whole = field(soft_rig(rig), up[None])
        assert found.slope[0] / body.gravity == pytest.approx(float(whole.net_buoyancy[0]), abs=lift)
        # about the held point: the force acts there too
        about = found.slope[1:] + found.slope[0] * rig.held
        assert np.cross(up, about) == pytest.approx(np.cross(up, whole.d[0]), abs=moment)


def test_each_limb_weighs_what_the_tables_and_its_gear_say(dry_case):
    """Link by link: tissue, and what of suit, boots, fins and hood goes with it, none lost and none twice."""
    solids = dict(dry_case.hanging.body.segments)
    links = dry_case.diver.body.links
    fins = sum(p.solid.mass for p in dry_case.hanging.assembled.rig.parts if p.kind == "fins")
    boots = sum(p.solid.mass for p in dry_case.hanging.assembled.rig.parts if p.kind == "boots")
    for side in ("left", "right"):
        foot, shank = links[LINK_OF[f"{side} foot"]], links[LINK_OF[f"{side} shank"]]
        worn = foot.mass - solids[f"{side} foot"].mass - 0.5 * (fins + boots)
        assert 0.05 < worn < 0.4  # the suit's cloth and undergarment over a foot
        assert 0.1 < shank.mass - solids[f"{side} shank"].mass < 0.6
        assert foot.mass > shank.mass - solids[f"{side} shank"].mass
    hood = next(p.solid for p in dry_case.hanging.assembled.rig.parts if p.kind == "hood")
    assert links[LINK_OF["head"]].mass > solids["head"].mass + hood.mass


def test_the_body_stays_nearly_as_drawn(afloat_case):
    """What it costs to have the tables' volumes and centres: a third of a segment at the hip, 5 cm at an arm.

    The trunk ends and the thigh begins elsewhere in tables than in the shape.
    """
    solids = dict(afloat_case.hanging.body.segments)
    for link, name in (
        (LINK_OF[n], n) for n in solids if "trunk" not in n and "hand" not in n and "forearm" not in n
    ):
        hull = afloat_case.diver.body.links[link].hulls[0]
        assert hull.share == pytest.approx(1.0, abs=0.22), name
        own = volume_integrals(hull.mesh)
        assert hull.first / hull.volume == pytest.approx(own.centroid, abs=1e-9)
        assert np.linalg.norm(solids[name].cb - volume_integrals(solids[name].mesh).centroid) < 0.04


def test_left_and_right_alike(dry_case):
    """Each left limb mirrors its right: masses but for what hangs on one side, joints exactly."""
    joints = {j.name: j for j in dry_case.diver.body.joints}
    flip = np.array([1.0, -1.0, 1.0])
    for name, left in joints.items():
        if not name.startswith("left "):
            continue
        right = joints[name.replace("left ", "right ")]
        assert right.point == pytest.approx(left.point * flip, abs=1e-12)
        # a mirrored axis turns the other way
        assert right.axis == pytest.approx(-left.axis * flip, abs=1e-12)
        assert (right.low, right.high) == (left.low, left.high)
    links = dry_case.diver.body.links
    for limb in ("upper arm", "thigh", "shank", "foot"):
        one, other = links[LINK_OF[f"left {limb}"]], links[LINK_OF[f"right {limb}"]]
        assert other.mass == pytest.approx(one.mass, rel=1e-3)
        assert other.cm == pytest.approx(one.cm * flip, abs=1e-3)


def test_suit_gas_lies_over_the_limb_it_goes_with(dry_case):
    """As many cells as the suit has, each within 5 cm of its own limb's hull, and the gas of the pose told."""
    (gas,) = dry_case.diver.body.gas
    suit = dry_case.told.rig.suit
    assert len(gas.link) == len(suit.cells)
    air = dry_case.told.rig.water.pressure - dry_case.told.rig.water.density * dry_case.told.rig.water.gravity * NEAR
    assert dry_case.diver.suit_gas == pytest.approx(suit.gas * dry_case.told.rig.water.pressure / air, rel=1e-12)
    assert gas.gas.bag.amount == dry_case.diver.suit_gas
    for number, link in enumerate(dry_case.diver.body.links):
        cells = gas.gas.cells[gas.link == number]
        if not len(cells):
            continue
        skin = np.concatenate([h.mesh.vertices for h in link.hulls])
        away = np.linalg.norm(cells[:, None] - skin[None], axis=2).min(axis=1)
        assert away.max() < 0.09  # half a patch, and the shift of a hull onto the tables' centre
    assert LINK_OF["head"] not in gas.link


def test_stated_wing_gas_moves_and_a_full_wing_does_not(dry_case):
    some = diver_of(demo_path("small-woman-steel"), ['wing.gas="5 l"']).diver
    full = dry_case.diver
    assert full.wing_full
    assert full.wing_gas == pytest.approx(float(dry_case.told.rig.wing.law.most.sum()), rel=1e-12)
    assert not some.wing_full
    assert some.wing_gas == pytest.approx(5e-3)
    assert len(some.body.gas) == len(full.body.gas) + 1
    assert (some.body.gas[-1].link == 0).all()


def test_the_mouth_goes_with_the_head(afloat_case):
    """Where the landmark of the body posed anew is."""
    diver = afloat_case.diver
    found = carried_point(diver.body, angles_of(diver.body.joints, BENT), LINK_OF["head"], diver.mouth)
    assert found == pytest.approx(afloat_case.dressed(BENT).body.landmarks["mouth"], abs=1e-9)


def test_bulky_gear_keeps_its_shape(afloat_case):
    bulky = {
        p.name for p in afloat_case.told.rig.parts if p.kind != "body" and p.solid.volume > BULKY and p.solid.mesh
    }
    assert bulky
    assert bulky <= set(afloat_case.diver.names)


def test_a_rig_of_numbers_is_refused(dry_case):
    bare = replace(dry_case.hanging, assembled=replace(dry_case.hanging.assembled, looks=None))
    with pytest.raises(ValueError, match="no shape"):
        diver_afloat(dry_case.told, bare, dry_case.swung, NEAR, NECK)


def test_gas_that_spreads_at_the_surface_keeps_its_mass():
    """Boyle and the mass of the gas by hand: 10 l at 2 bar are 20 l at 1 bar, half as dense."""
    water = Water(density=1000.0, gravity=10.0, pressure=2e5)
    law = LogisticLaw(np.zeros(1), np.full(1, 0.05), 300.0)
    suit, wing = (kind(np.zeros((1, 3)), law, 0.01, 2.4) for kind in (SuitPocket, WingPocket))
    nothing = point_mass(80.0, np.zeros(3))
    rig = at_surface(Rig((), suit, wing, water, np.zeros(3), nothing), depth=10.0)
    assert rig.water.pressure == pytest.approx(1e5, rel=1e-12)
    assert rig.suit.gas == pytest.approx(0.02, rel=1e-12)
    assert rig.suit.gas * rig.suit.gas_density == pytest.approx(0.01 * 2.4, rel=1e-12)
    assert rig.wing.gas == 0.01  # as large as was stated
    assert rig.wing.gas_density == pytest.approx(1.2, rel=1e-12)
