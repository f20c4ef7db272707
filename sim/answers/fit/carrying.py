"""How the trunk holds a rig on the back: the statics of the side view.

Trunk axes: x along the trunk to the head, z to the back; pairs (x, z). The trunk leans forward by ``lean`` [rad], so
that straight up is (cos lean, sin lean). It holds the rig at three places: the shoulder straps bear it and pull it
forward at the shoulders, the waist strap bears it at the hips, and the back pushes the plate's lower end away. Which
share of what bears along the trunk goes to the hips cannot be had from statics, and is given; the rest balances.
Straps no tighter than they need be, no rubbing between plate and back (assumed).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, sin

import numpy as np

from meshes.mesh import Floats


@dataclass(frozen=True, eq=False)
class Places:
    """Where the trunk holds the rig, (2,) each [m]: shoulder straps, waist strap, the plate's foot."""

    shoulders: Floats
    hips: Floats
    foot: Floats


@dataclass(frozen=True, eq=False)
class Hold:
    """Forces (2,) [N] of the trunk on the rig, and the points (2,) [m] where they act."""

    places: Places
    shoulders: Floats
    hips: Floats
    back: Floats
    back_at: Floats


def weight_vector(weight: float, lean: float) -> Floats:
    """A weight [N] as (2,) in trunk axes."""
    return np.array([-weight * cos(lean), -weight * sin(lean)])


def flexion(force: Floats, at: Floats, about: Floats) -> float:
    """Moment [N m] of a force (2,) [N] acting at a point about another; plus bends the trunk forward."""
    return float((at[1] - about[1]) * force[0] - (at[0] - about[0]) * force[1])


def hold(weight: float, cm: Floats, lean: float, hips_share: float, places: Places) -> Hold:
    """Forces that keep a rig of ``weight`` [N] with its CM (2,) [m] on the trunk.

    hips_share : of the weight's part along the trunk, 0 to 1
    Where the lean alone presses the rig on the back, the straps pull no more and the back pushes higher up.
    """
    pull = weight_vector(weight, lean)
    hips = np.array([-hips_share * pull[0], 0.0])
    up = np.array([-(1.0 - hips_share) * pull[0], 0.0])
    backward = -(flexion(pull, cm, places.foot) + flexion(up, places.shoulders, places.foot))
    backward -= flexion(hips, places.hips, places.foot)
    arm = float(places.shoulders[0] - places.foot[0])
    if backward >= 0.0:
        back_at, forward = places.foot, backward / arm
    else:
        back_at, forward = places.foot + np.array([-backward / (weight * sin(lean)), 0.0]), 0.0
    return Hold(
        places=places,
        shoulders=np.array([up[0], -forward]),
        hips=hips,
        back=np.array([0.0, forward + weight * sin(lean)]),
        back_at=back_at,
    )


def load_moment(held: Hold, joint: Floats) -> float:
    """Moment [N m] of the rig on the trunk above a joint of the spine (2,) [m]; plus bends it forward.

    The waist strap bears on the hip bones, which are below that joint.
    """
    moment = flexion(-held.shoulders, held.places.shoulders, joint)
    if held.back_at[0] > joint[0]:
        moment += flexion(-held.back, held.back_at, joint)
    return moment


def lean_to_balance(moving: tuple[float, Floats], still: tuple[float, Floats], pivot: Floats, target: float) -> float:
    """Forward lean [rad] of ``moving`` about ``pivot`` that puts the CM of both straight above z = ``target`` [m].

    moving, still : mass [kg] and CM (2,) [m], upright;  the whole of a body leans about the ankles, trunk and all it
    bears about the hips. Raises ValueError where no lean under a right angle does.
    """
    mass, cm = moving
    up, back = mass * (cm - pivot)
    wanted = (mass + still[0]) * target - still[0] * still[1][1] - mass * pivot[1]
    reach = hypot(up, back)
    if not abs(wanted) <= reach:
        raise ValueError(f"no lean balances {mass:.0f} kg whose middle is {cm[1] - target:.2f} m behind")
    return float(np.arccos(wanted / reach) - atan2(up, back))
