r"""Rigid links hinged to one another that float as one body, with gas that may move from link to link.

Link 0 is the root, in whose axes everything is told. Link s is carried to x = R x_0 + t from where it is with all
joints straight; its own energy (``energy.afloat``) hangs on (h, u) as seen from its own axes, theta_s =
(h - u.t, R^T u). With w = u x a for a joint of axis a through p, as it lies now, that the link hangs on,

    d theta_s/dq = (-w.(t - p), R^T w),      d2 theta_s/dq_i dq_j = (-w'.(t - p_j), R^T w'),   w' = (u x a_i) x a_j,

joint i being nearer to the root, so that slope and second derivative of the whole by level, turn and joints follow
from those of the links: dE/dq is minus the torque that weight and water exert about the joint. Gas that is free to
move ties the links together: its pressure answers to the depths of all its cells.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from meshes.body.bend import rotation
from meshes.mesh import Floats, Ints, moved
from sim.floating.body import FloatingBody, Hull, SoftGas, Specks, floating_body
from sim.floating.clip import face_sums
from sim.floating.energy import afloat, depth_rows, soft_energy
from sim.floating.joint import Joint


@dataclass(frozen=True, eq=False)
class LinkedGas:
    """Soft gas whose cells lie on several links.

    gas : cells as they lie with all joints straight [m];  link : (n,) number of the link each cell lies on
    """

    gas: SoftGas
    link: Ints


@dataclass(frozen=True, eq=False)
class Articulated:
    """Links without gas, each in the axes of the root with all joints straight, the joints, and the moving gas.

    Joints are listed from the root outward; two with the same parent and child turn the child about the first, then
    about the second as the first has turned it.
    """

    links: tuple[FloatingBody, ...]
    joints: tuple[Joint, ...]
    gas: tuple[LinkedGas, ...]

    @property
    def mass(self) -> float:
        """Mass of all links [kg], without the moving gas."""
        return sum(link.mass for link in self.links)

    @property
    def weight(self) -> float:
        """Weight of all links [N]."""
        return self.mass * self.links[0].gravity


@dataclass(frozen=True, eq=False)
class Poised:
    """The whole at one level, attitude and set of joint angles.

    energy : [J];  slope, bend : by (level [m], two turns [rad], joints [rad]), in the order of the joints
    """

    energy: float
    slope: Floats
    bend: Floats


@dataclass(frozen=True, eq=False)
class _Carried:
    """Where the links are: turn (s, 3, 3), shift (s, 3), joint axes and points (j, 3) as they lie now."""

    turn: Floats
    shift: Floats
    axes: Floats
    points: Floats


def articulated(links: Sequence[FloatingBody], joints: Sequence[Joint], gas: Sequence[LinkedGas] = ()) -> Articulated:
    """Checked articulated body. Raises ValueError for a link with gas of its own or not hung on the root."""
    if any(link.gas for link in links):
        raise ValueError("moving gas belongs to the whole, not to a link")
    hung = {0}
    for j in joints:
        if j.parent not in hung or not 0 < j.child < len(links):
            raise ValueError(f"joint {j.name!r} hangs on nothing: list joints from the root outward")
        if not j.low <= j.high:
            raise ValueError(f"joint {j.name!r} needs low <= high, got {j.low} and {j.high}")
        hung.add(j.child)
    if len(hung) < len(links):
        raise ValueError("a link hangs on no joint")
    return Articulated(tuple(links), tuple(joints), tuple(gas))


def poised(body: Articulated, up: Floats, level: float, angles: Floats, basis: Floats) -> Poised:
    """Energy of weight, water and gas with the water up to ``level`` [m] along ``up`` (3,) unit, root axes.

    angles : (j,) of the joints [rad];  basis : (2, 3) the two directions, unit and across ``up`` and each other, in
    which ``up`` turns. What the joints' springs store is not in it.
    """
    at, chains, count = _carried(body, angles), _chains(body), 3 + len(body.joints)
    energy, slope, bend = 0.0, np.zeros(count), np.zeros((count, count))
    thetas, rows = _thetas(at, chains, up, level, basis)
    pulls = np.zeros((len(body.links), 4))
    for s, link in enumerate(body.links):
        own = afloat(link, thetas[s, 1:], float(thetas[s, 0]))
        energy += own.energy
        pulls[s] = own.slope
        bend += rows[s].T @ own.bend @ rows[s]
    for linked in body.gas:
        points = depth_rows(linked.gas.cells)
        depth = np.einsum("ni,ni->n", points, thetas[linked.link])
        by_all = np.einsum("ni,nij->nj", points, rows[linked.link])
        stored, second, under = soft_energy(linked.gas, depth, by_all)
        energy, bend = energy + stored, bend + second
        np.add.at(pulls, linked.link, linked.gas.bag.weight * under[:, None] * points)
    slope += np.einsum("sij,si->j", rows, pulls)
    _add_turning(bend, at, chains, up, basis, pulls)
    return Poised(energy, slope, bend)


def at_angles(body: Articulated, angles: Floats) -> FloatingBody:
    """The body with its joints held at ``angles`` (j,) [rad], as one rigid body in the root's axes."""
    at = _carried(body, angles)
    hulls, specks, masses = [], [], []
    for turn, shift, link in zip(at.turn, at.shift, body.links, strict=True):
        hulls += [carried_hull(h, turn, shift) for h in link.hulls]
        specks += [Specks(k.at @ turn.T + shift, k.volume, k.radius) for k in link.specks]
        masses.append(link.mass * (turn @ link.cm + shift))
    gas = [
        replace(g.gas, cells=np.einsum("nij,nj->ni", at.turn[g.link], g.gas.cells) + at.shift[g.link])
        for g in body.gas
    ]
    root = body.links[0]
    return floating_body(
        hulls, body.mass, np.sum(masses, axis=0) / body.mass, density=root.density, gravity=root.gravity,
        specks=specks, gas=gas,
    )  # fmt: skip


def carried_point(body: Articulated, angles: Floats, link: int, point: Floats) -> Floats:
    """Where ``point`` (3,) of a link, told with all joints straight, lies with the joints at ``angles`` (j,)."""
    at = _carried(body, angles)
    return np.asarray(at.turn[link] @ point + at.shift[link])


def carried_hull(hull: Hull, turn: Floats, shift: Floats) -> Hull:
    """A hull turned by ``turn`` (3, 3) and then shifted by ``shift`` (3,) [m]."""
    there = moved(hull.mesh, turn, shift)
    first, centre = turn @ hull.first + hull.volume * shift, turn @ hull.centre + shift
    return Hull(there, hull.share, hull.volume, first, centre, hull.radius, face_sums(there))


def _carried(body: Articulated, angles: Floats) -> _Carried:
    turn, shift = np.tile(np.eye(3), (len(body.links), 1, 1)), np.zeros((len(body.links), 3))
    axes, points = np.zeros((len(body.joints), 3)), np.zeros((len(body.joints), 3))
    reached = {0}
    for k, joint in enumerate(body.joints):
        base = joint.child if joint.child in reached else joint.parent
        r, t = turn[base].copy(), shift[base].copy()  # the child itself may be the base
        axes[k], points[k] = r @ joint.axis, r @ joint.point + t
        swing = rotation(joint.axis, float(angles[k]))
        turn[joint.child] = r @ swing
        shift[joint.child] = r @ (joint.point - swing @ joint.point) + t
        reached.add(joint.child)
    return _Carried(turn, shift, axes, points)


def _chains(body: Articulated) -> list[list[int]]:
    """Of each link, the joints between the root and it, nearest to the root first."""
    chains: list[list[int]] = [[] for _ in body.links]
    for k, joint in enumerate(body.joints):
        chains[joint.child] = [*(chains[joint.child] or chains[joint.parent]), k]
    return chains


def _thetas(at: _Carried, chains: list[list[int]], up: Floats, level: float, basis: Floats) -> tuple[Floats, Floats]:
    """(h, u) as each link sees it, (s, 4), and its derivative (s, 4, 3 + j) by level, two turns and the joints."""
    links = len(chains)
    thetas, rows = np.zeros((links, 4)), np.zeros((links, 4, 3 + len(at.axes)))
    swings = _crossed(up, at.axes)
    for s, chain in enumerate(chains):
        turn, shift = at.turn[s], at.shift[s]
        thetas[s, 0], thetas[s, 1:] = level - up @ shift, up @ turn
        rows[s, 0, 0] = 1.0
        rows[s, 0, 1:3], rows[s, 1:, 1:3] = -basis @ shift, (basis @ turn).T
        ahead = [3 + j for j in chain]
        rows[s, 0, ahead] = -np.einsum("ji,ji->j", swings[chain], shift - at.points[chain])
        rows[s, 1:, ahead] = swings[chain] @ turn
    return thetas, rows


def _add_turning(
    bend: Floats, at: _Carried, chains: list[list[int]], up: Floats, basis: Floats, pulls: Floats
) -> None:
    """Add to ``bend`` what the second derivatives of the links' (h, u) make of ``pulls`` (s, 4), the slope by them.

    A change w of the root's u about the point of joint j changes the energy by w.f_j, with f_j summed over the links
    that hang on it; (u x a) x b is a (u.b) - u (a.b).
    """
    turned = np.einsum("sij,sj->si", at.turn, pulls[:, 1:])
    felt = np.zeros((len(at.axes), 3))
    before: dict[int, list[int]] = {}
    whole = 0.0
    for s, chain in enumerate(chains):
        whole += float(up @ turned[s] - pulls[s, 0] * (up @ at.shift[s]))
        for place, j in enumerate(chain):
            felt[j] += turned[s] - pulls[s, 0] * (at.shift[s] - at.points[j])
            before[j] = chain[: place + 1]
    # u stays a unit vector: turning it by b shortens its own part by b^2/2
    bend[1, 1] -= whole
    bend[2, 2] -= whole
    for j, nearer in before.items():
        axis, force = at.axes[j], felt[j]
        across = basis @ _crossed(axis, force[None])[0]
        bend[1:3, 3 + j] += across
        bend[3 + j, 1:3] += across
        for i in nearer:
            value = float((up @ axis) * (at.axes[i] @ force) - (at.axes[i] @ axis) * (up @ force))
            bend[3 + i, 3 + j] += value
            if i != j:
                bend[3 + j, 3 + i] += value


def _crossed(one: Floats, many: Floats) -> Floats:
    """Cross products (n, 3) of ``one`` (3,) with each of ``many`` (n, 3)."""
    x, y, z = one
    return np.asarray(many @ np.array([[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]]))
