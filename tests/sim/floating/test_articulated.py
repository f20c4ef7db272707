"""Energy, forces and joint torques of hinged floating links, by differences, posed rigid, and turned."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.mesh import moved
from meshes.primitives import ellipsoid
from sim.floating.articulated import Articulated, LinkedGas, articulated, at_angles, carried_point, poised
from sim.floating.body import floating_body, hull_of
from sim.floating.energy import afloat
from sim.floating.joint import Joint
from sim.statics.field import tangent_basis
from tests.sim.floating.test_equilibrium import soft_body


def unit(rng):
    v = rng.normal(size=3)
    return v / np.linalg.norm(v)


def chain(seed):
    """A lumpy root with specks, a link on two hinges, one more on that, one on the root; gas over all of them."""
    rng = np.random.default_rng(seed)
    soft = soft_body(seed)

    def link(at):
        mesh = moved(ellipsoid([0.4, 0.15, 0.1], rings=10, points=16), shift=np.array(at))
        return floating_body(
            [hull_of(mesh)], 12.0, np.array(at) + 0.03 * rng.normal(size=3), density=1025.0, gravity=9.81
        )

    root = floating_body(soft.hulls, 90.0, soft.cm, density=1025.0, gravity=9.81, specks=soft.specks)
    joints = [
        Joint("hip bend", 0, 1, unit(rng), np.array([-0.5, 0.2, 0.0]), -1.0, 1.0),
        Joint("hip spread", 0, 1, unit(rng), np.array([-0.5, 0.2, 0.0]), -1.0, 1.0),
        Joint("knee", 1, 2, unit(rng), np.array([-1.3, 0.2, 0.0]), -1.0, 1.0),
        Joint("neck", 0, 3, unit(rng), np.array([0.7, 0.0, 0.0]), -1.0, 1.0),
    ]
    gas = [LinkedGas(g, rng.integers(0, 4, len(g.cells))) for g in soft.gas]
    return articulated([root, link([-0.9, 0.2, 0.0]), link([-1.6, 0.2, 0.0]), link([1.0, 0.0, 0.1])], joints, gas)


def somewhere(seed):
    rng = np.random.default_rng(seed + 100)
    return unit(rng), 0.02, 0.5 * rng.normal(size=4)


@pytest.mark.parametrize("seed", range(3))
def test_slope_and_bend_are_the_derivatives_of_the_energy(seed):
    """Central differences over 1e-5 m and rad: rounding of 100 J is 1e-9 N, their own error 1e-10 of the third."""
    body, (up, level, angles) = chain(seed), somewhere(seed)
    basis, step = tangent_basis(up[None])[0], 1e-5
    now = poised(body, up, level, angles, basis)

    def at(change):
        turned = up + change[1:3] @ basis
        turned = turned / np.linalg.norm(turned)
        # the two directions carried along by the turn, so that slopes before and after are told in the same ones
        along = basis - np.outer(basis @ turned, up + turned) / (1.0 + up @ turned)
        return poised(body, turned, level + change[0], angles + change[3:], along)

    for k, one in enumerate(np.eye(7)):
        plus, minus = at(step * one), at(-step * one)
        assert (plus.energy - minus.energy) / (2.0 * step) == pytest.approx(now.slope[k], abs=1e-5)
        assert (plus.slope - minus.slope) / (2.0 * step) == pytest.approx(now.bend[k], rel=1e-5, abs=0.05)


@pytest.mark.parametrize("seed", range(3))
def test_held_stiff_it_is_one_rigid_body(seed):
    """Energy, force and moment are those of the posed links clipped together."""
    body, (up, level, angles) = chain(seed), somewhere(seed)
    basis = tangent_basis(up[None])[0]
    ours, rigid = poised(body, up, level, angles, basis), afloat(at_angles(body, angles), up, level)
    assert ours.energy == pytest.approx(rigid.energy, abs=1e-9)
    assert ours.slope[0] == pytest.approx(rigid.slope[0], abs=1e-9)
    assert ours.slope[1:3] == pytest.approx(basis @ rigid.slope[1:], abs=1e-9)
    assert ours.bend[0, 0] == pytest.approx(rigid.bend[0, 0], rel=1e-9)


def test_a_joint_turns_what_hangs_on_it_and_nothing_else():
    body = chain(1)
    joint = body.joints[2]  # the knee: link 2
    angles = np.array([0.0, 0.0, 0.7, 0.0])
    there = np.array([-1.6, 0.5, 0.3])
    for link in (0, 1, 3):
        assert carried_point(body, angles, link, there) == pytest.approx(there, abs=1e-15)
    turned = carried_point(body, angles, 2, there)
    axis, arm = joint.axis, there - joint.point
    along = axis * (axis @ arm)
    swung = along + (arm - along) * np.cos(0.7) + np.cross(axis, arm) * np.sin(0.7)  # Rodrigues
    assert turned == pytest.approx(joint.point + swung, abs=1e-14)


def test_told_from_other_axes_it_is_the_same():
    """Root, links, joints and gas all told from turned and shifted axes: energy, force and joint torques stay.

    A turn of the whole is about the axes' own origin, so that its moment stays only as far as the force is nil.
    """
    body, (up, level, angles) = chain(2), somewhere(2)
    turn = np.linalg.qr(np.random.default_rng(5).normal(size=(3, 3)))[0]
    turn *= np.sign(np.linalg.det(turn))
    shift = np.array([0.3, -0.8, 1.7])

    def link(b):
        return floating_body(
            [hull_of(moved(h.mesh, turn, shift)) for h in b.hulls], b.mass, turn @ b.cm + shift,
            density=b.density, gravity=b.gravity,
            specks=[replace(s, at=s.at @ turn.T + shift) for s in b.specks],
        )  # fmt: skip

    other = Articulated(
        tuple(link(b) for b in body.links),
        tuple(replace(j, axis=turn @ j.axis, point=turn @ j.point + shift) for j in body.joints),
        tuple(replace(g, gas=replace(g.gas, cells=g.gas.cells @ turn.T + shift)) for g in body.gas),
    )
    basis = tangent_basis(up[None])[0]
    plain = poised(body, up, level, angles, basis)
    image = poised(other, turn @ up, level + float(turn @ up @ shift), angles, basis @ turn.T)
    assert image.energy == pytest.approx(plain.energy, abs=1e-9)
    same = [0, 3, 4, 5, 6]
    assert image.slope[same] == pytest.approx(plain.slope[same], abs=1e-8)
    assert image.bend[np.ix_(same, same)] == pytest.approx(plain.bend[np.ix_(same, same)], abs=1e-6)
    moved_on = plain.slope[1:3] - plain.slope[0] * (basis @ turn.T @ shift)
    assert image.slope[1:3] == pytest.approx(moved_on, abs=1e-8)


def test_what_hangs_on_nothing_is_refused():
    body = chain(0)
    with pytest.raises(ValueError, match="'knee' hangs on nothing"):
        articulated(body.links, [body.joints[2], *body.joints[:2], body.joints[3]])
    with pytest.raises(ValueError, match="hangs on no joint"):
        articulated(body.links, body.joints[:3])
    with pytest.raises(ValueError, match="low <= high"):
        articulated(body.links, [replace(j, low=2.0) for j in body.joints])
    with pytest.raises(ValueError, match="belongs to the whole"):
        articulated([soft_body(0), *body.links[1:]], body.joints)
