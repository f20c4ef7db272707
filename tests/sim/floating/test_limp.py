"""Limp bodies afloat: closed forms of hinged rods, minima, ends of ranges, springs."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.primitives import box
from sim.floating.articulated import articulated, at_angles, poised
from sim.floating.body import floating_body, homogeneous, hull_of
from sim.floating.equilibrium import floats_from
from sim.floating.joint import Joint, Spring
from sim.floating.limp import limp_from
from tests.sim.floating.test_articulated import chain

UP, Y = np.array([0.0, 0.0, 1.0]), np.array([0.0, 1.0, 0.0])
DENSITY, GRAVITY = 1000.0, 9.80665
ROD, THICK = 1.2, 0.02  # m
ENDS = (-np.pi, np.pi)


def rod(relative_density, at=(0.0, 0.0, 0.0), along=(0.0, 0.0, -1.0)):
    """A thin rod ROD long that hangs from ``at`` along an axis."""
    way = np.array(along)
    size = np.where(np.abs(way) > 0.5, ROD, THICK)
    mesh = box(size, np.array(at) + 0.5 * ROD * way)
    return floating_body(
        [hull_of(mesh)], relative_density * DENSITY * size.prod(), np.array(at) + 0.5 * ROD * way,
        density=DENSITY, gravity=GRAVITY,
    )  # fmt: skip


def barge(above):
    """A raft too large to feel a rod, which holds the origin ``above`` the water."""
    mesh = box([4.0, 4.0, 0.2], [0.0, 0.0, -above])
    return floating_body(
        [hull_of(mesh)], 1.6 * DENSITY, np.array([0.0, 0.0, -above]), density=DENSITY, gravity=GRAVITY
    )


def hung(relative_density, above, spring=None, ends=ENDS):
    """A rod hinged ``above`` the water beside a large raft."""
    return articulated([barge(above), rod(relative_density)], [Joint("hinge", 0, 1, Y, np.zeros(3), *ends, spring)])


@pytest.mark.parametrize("relative_density", [0.3, 0.6, 0.85])
@pytest.mark.parametrize("above", [0.1, 0.3])
def test_a_light_rod_hinged_over_the_water_leans(relative_density, above):
    """Moments about the hinge: s L^2 = L^2 - (h/cos a)^2, so cos a = h / (L sqrt(1 - s)), 1 at most."""
    cosine = above / (ROD * np.sqrt(1.0 - relative_density))
    expected = np.arccos(min(1.0, cosine))
    rest = limp_from(hung(relative_density, above), UP, np.array([0.4]), held=True)
    assert rest.settled
    assert abs(rest.angles[0]) == pytest.approx(expected, abs=1e-3)  # the rod is 2 cm thick, the raft sinks 30 um
    assert rest.torque[0] == pytest.approx(0.0, abs=1e-6)


def test_a_heavy_rod_hangs_straight_down():
    rest = limp_from(hung(1.7, 0.2), UP, np.array([0.9]), held=True)
    assert rest.angles[0] == pytest.approx(0.0, abs=1e-6)


def test_a_spring_and_the_weight_in_water_share_the_rod():
    """Wholly under water: k a = (s - 1) rho g V L/2 sin a, and no more than that."""
    s, stiffness, wanted = 1.7, 2.0, 0.8
    body = hung(s, -1.5, Spring(stiffness * wanted, stiffness, np.zeros(0), np.zeros(0)))
    rest = limp_from(body, UP, np.array([0.5]), held=True)
    angle, weight = rest.angles[0], (s - 1.0) * DENSITY * GRAVITY * ROD * THICK**2
    assert stiffness * (wanted - angle) == pytest.approx(0.5 * ROD * weight * np.sin(angle), rel=1e-6)
    assert 0.1 < angle < wanted - 0.1


def test_a_light_rod_with_a_heavy_one_hung_on_it_floats_upright():
    """Equal sections: the length under water of the upper is s1 L + (s2 - 1) L, the lower wholly under."""
    s1, s2 = 0.3, 1.5
    upper, lower = rod(s1), rod(s2, (0.0, 0.0, -ROD))
    body = articulated([upper, lower], [Joint("joint", 0, 1, Y, np.array([0.0, 0.0, -ROD]), *ENDS)])
    rest = limp_from(body, np.array([0.2, 0.1, 1.0]), np.array([0.5]))
    assert rest.up == pytest.approx(UP, abs=1e-6)
    assert rest.angles[0] == pytest.approx(0.0, abs=1e-6)
    assert rest.level == pytest.approx(-ROD * (1.0 - s1 - (s2 - 1.0)), abs=1e-9)
    assert rest.least_stiffness > 0.0


def test_a_stiff_body_floats_as_a_rigid_one():
    """With every joint held, the rest is that of the same links posed and joined."""
    body = chain(1)
    angles = np.array([0.3, -0.2, 0.5, 0.1])
    fixed = replace(body, joints=tuple(replace(j, low=a, high=a) for j, a in zip(body.joints, angles, strict=True)))
    start = np.array([0.3, -0.5, 0.8])
    limp, rigid = limp_from(fixed, start, angles), floats_from(at_angles(body, angles), start)
    assert limp.settled
    assert limp.up == pytest.approx(rigid.up, abs=1e-6)
    assert limp.level == pytest.approx(rigid.level, abs=1e-7)
    assert np.linalg.eigvalsh(limp.still) == pytest.approx(rigid.stiffness, rel=1e-5)
    assert limp.energy == pytest.approx(rigid.state.energy, abs=1e-9)


@pytest.mark.parametrize("seed", range(3))
def test_rests_are_minima(seed):
    """No nudge in level, attitude or joints within their ranges lowers the energy; only joints at an end press."""
    body = chain(seed)
    low, high = np.array([[j.low, j.high] for j in body.joints]).T
    rest = limp_from(body, np.array([0.2, 0.1, 1.0]), np.zeros(4))
    assert rest.settled
    assert rest.least_stiffness > 0.0
    inside = (rest.angles > low + 1e-6) & (rest.angles < high - 1e-6)
    assert rest.torque[inside] == pytest.approx(0.0, abs=1e-6)
    assert (rest.torque[rest.angles <= low + 1e-6] <= 0.0).all()
    assert (rest.torque[rest.angles >= high - 1e-6] >= 0.0).all()
    assert rest.moment == pytest.approx(np.zeros(3), abs=1e-5)
    rng = np.random.default_rng(seed)
    for _ in range(12):
        turned = rest.up + 0.02 * rng.normal(size=3)
        angles = np.clip(rest.angles + 0.03 * rng.normal(size=4), low, high)
        level = rest.level + 0.004 * rng.normal()
        there = poised(body, turned / np.linalg.norm(turned), level, angles, rest.basis)
        assert there.energy > rest.energy


def test_giving_way_only_takes_stiffness_away():
    """Limbs that follow make any turn no harder: the stiffness with limp joints is below that with stiff ones."""
    rest = limp_from(chain(2), np.array([0.2, 0.1, 1.0]), np.zeros(4))
    assert np.linalg.eigvalsh(rest.still - rest.limp)[0] >= -1e-6


def test_held_it_is_turned_by_what_the_energy_says():
    """The moment on an attitude that is held is minus the energy's slope as the body turns, level and joints free."""
    body, start = chain(0), np.array([0.5, 0.2, 0.8])
    axis = np.array([0.3, -0.9, 0.1])
    axis = axis / np.linalg.norm(axis)
    step = 1e-4
    middle = limp_from(body, start, np.zeros(4), held=True)

    def turned(angle):
        u = middle.up
        along = axis * (axis @ u)
        # the body turns by the angle, so that up turns back in its axes
        return along + (u - along) * np.cos(angle) - np.cross(axis, u) * np.sin(angle)

    plus, minus = (limp_from(body, turned(a), middle.angles, held=True).energy for a in (step, -step))
    assert middle.moment @ axis == pytest.approx(-(plus - minus) / (2.0 * step), abs=1e-3)


def test_bound_to_an_axis_it_keeps_its_plane():
    rest = limp_from(chain(0), np.array([0.3, 0.0, 1.0]), np.zeros(4), about=Y)
    assert rest.up[1] == pytest.approx(0.0, abs=1e-12)
    assert rest.moment @ Y == pytest.approx(0.0, abs=1e-5)


def test_a_joint_that_follows_is_where_it_is_sent():
    """A joint held by will at an angle that hangs on the attitude is at that angle for the attitude of rest."""
    body = chain(1)

    def follow(up, level, angles):
        wanted = 0.5 * float(up[0])
        return (*body.joints[:3], replace(body.joints[3], low=wanted, high=wanted))

    rest = limp_from(body, np.array([0.2, 0.1, 1.0]), np.zeros(4), follow=follow)
    assert rest.settled
    assert rest.angles[3] == pytest.approx(0.5 * rest.up[0], abs=1e-3)


def test_what_sinks_has_no_rest():
    stone = homogeneous(box([0.3, 0.3, 0.3]), 2.0)
    assert limp_from(articulated([stone], []), UP, np.zeros(0)) is None
