"""``settle --surface``: how the diver floats with the wing blown up."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from meshes.body.pose import Pose
from meshes.body.skeleton import Skeleton
from meshes.mesh import Floats
from scenarios.errors import Problem, ScenarioError
from scenarios.quantities import SI
from sim.answers.fit.joint_ranges import neck_extension
from sim.answers.fit.limits import PALM
from sim.answers.fit.look_ahead import look_ahead
from sim.answers.settle.afloat.answer import REFERENCE, SINKS, HeldAttitude, Lying, RestAfloat, Surface, Turning
from sim.assembly.afloat import HANGING, SWUNG, DiverAfloat, Dressed, diver_afloat
from sim.assembly.afloat_attitudes import (
    Attitude,
    Attitudes,
    Rest,
    attitudes,
    face,
    same_way,
    stays,
    wing_push,
)
from sim.assembly.assembled import Assembled, Mobility
from sim.assembly.limp_joints import NECK_FLEXION_DEG, pose_at
from sim.assembly.posed_diver import PosedDiver
from sim.assembly.tipped_head import mouth_height
from sim.case import Case
from sim.floating.articulated import at_angles
from sim.floating.body import FloatingBody
from sim.floating.energy import afloat, gas_state, hull_under
from sim.floating.equilibrium import sinks
from sim.floating.limp import Limp
from sim.person.person import Person
from sim.person.posed_body import posed_body
from sim.rig import STANDARD_GRAVITY
from sim.said import word
from sim.telling.attitude import pitch_and_roll

NEAR_SURFACE: Final = 0.5  # m, the least depth a scenario knows; foam is 2 to 3 % thinner there than at the surface
# measured by scripts/surface_error.py
DOUBT: Final = word(
    "How sure: how far headward a body's CB lies is known to half a centimetre (one SD), which turns the demo divers "
    "on their backs by 1 degree and moves their mouths by 6 mm. Limbs with no stiffness of their own let the trunk "
    "back by 5 to 12 degrees and the mouth down by 30 to 60 mm; legs held together take away 40 to 70 % of what "
    "rights a diver who is tipped to a side. Nothing of this has been measured on a diver."
)


@dataclass(frozen=True, eq=False)
class SurfaceReport:
    """The diver of a file at the surface.

    assembled : in the pose of the file;  found : None if the diver sinks
    dressed : the same rig in another pose;  arm : from shoulder to palm [m]
    """

    assembled: Assembled
    diver: DiverAfloat
    found: Attitudes | None
    dressed: Callable[[Pose], Dressed]
    arm: float


@dataclass(frozen=True, eq=False)
class SurfaceDiver:
    """A file's diver brought up to the surface; fields as those of ``SurfaceReport``."""

    assembled: Assembled
    diver: DiverAfloat
    dressed: Callable[[Pose], Dressed]
    arm: float


def surface_diver(case: Case) -> SurfaceDiver:
    """The diver of a scenario, ready to float; errors as of ``surface_report``."""
    made = case.wearer
    if made is None:
        message = "--surface needs the shapes of body and gear, which a parts file has not; give a scenario file"
        raise ScenarioError([Problem(str(case.path), message)])
    near = case.vary({"water.depth": SI(NEAR_SURFACE)})
    dressed = dresser(near)
    told, person = near.assembled, made.body.person
    diver = diver_afloat(told, dressed(HANGING), dressed(SWUNG), NEAR_SURFACE, _neck(told, person))
    return SurfaceDiver(told, diver, dressed, _arm(person.skeleton))


def dresser(near: Case) -> Callable[[Pose], Dressed]:
    """What puts the rig of a scenario together on its person in any pose."""

    def dressed(pose: Pose) -> Dressed:
        wearer = near.wearer
        if wearer is None:
            raise ValueError("a parts file has no person to pose")
        body = posed_body(wearer.body.person, pose)
        return Dressed(near.assembled_on(PosedDiver(body, wearer.estimated)), body)

    return dressed


def surface_report(case: Case, done: Callable[[float], None] | None = None) -> SurfaceReport:
    """How the diver of a scenario floats at the surface.

    done : told the share that is done, 0 to 1
    Raises ScenarioError for what cannot be built, and for a parts file, which has no shapes.
    """
    made = surface_diver(case)
    return SurfaceReport(made.assembled, made.diver, attitudes(made.diver, done), made.dressed, made.arm)


def _neck(told: Assembled, person: Person) -> tuple[float, float]:
    """How far the head is bent forward (below 0), and lifted before the neck or the gear behind it stops it [rad]."""
    worn = told.worn
    mobility = Mobility(0.0, 0.0, 0.0, 0.0, 0.0) if worn is None else worn.mobility
    lift = neck_extension(person, mobility) if worn is None else look_ahead(worn, told.rig).lift
    return -max(math.radians(NECK_FLEXION_DEG) - mobility.neck_bulk, 0.0), lift


def _arm(skeleton: Skeleton) -> float:
    """From the shoulder joint to the palm of the straight arm [m]."""
    j = skeleton.joints
    chain = [j["shoulder"], j["elbow"], j["wrist"], j["wrist"] + PALM * (j["fingertip"] - j["wrist"])]
    return float(sum(np.linalg.norm(b - a) for a, b in pairwise(chain)))


def surface_told(report: SurfaceReport) -> Surface:
    """What was worked out as it is told."""
    diver, found = report.diver, report.found
    held = at_angles(diver.body, np.zeros(len(diver.body.joints)))
    return Surface(
        outcome="floats" if found else "sinks",
        wing_gas=diver.wing_gas,
        wing_full=diver.wing_full,
        suit_gas=diver.suit_gas,
        mass=diver.body.mass,
        heavy_by=None if found else sinks(held, np.array([0.0, 0.0, 1.0])),
        rests=() if found is None else tuple(_rest(diver, rest) for rest in found.rests),
        attitudes=() if found is None else tuple(_attitude(report, a, found) for a in found.held),
        arm_length=report.arm,
        turning=SINKS
        if found is None
        else Turning(found.sit_up, found.tips_at, found.turn_up, found.rights, found.rights_still),
        reference=REFERENCE,
        notes=(*([DOUBT] if found else []), *(n for n in report.assembled.notes if "overfull" in n)),
    )


def _rest(diver: DiverAfloat, rest: Rest) -> RestAfloat:
    return RestAfloat(rest.reached_from, _lying(diver, rest.limp), stays(rest.limp), rest.limp.least_stiffness)


def _attitude(report: SurfaceReport, attitude: Attitude, found: Attitudes) -> HeldAttitude:
    """An attitude held: what it asks of the diver, and the number of the rest it leads to."""
    limp, number = attitude.held, attitude.left_alone
    rest = None if number is None else found.rests[number].limp
    return HeldAttitude(
        name=attitude.name,
        lying=_lying(report.diver, limp),
        moment=attitude.moment,
        at_arms_length=abs(attitude.moment) / (STANDARD_GRAVITY * report.arm),
        wing_moment=wing_push(report.diver, limp) if attitude.name == "upright" else None,
        leads_to_rest=number,
        stays=bool(rest is not None and stays(rest) and same_way(attitude.name, rest.up)),
    )


def _lying(diver: DiverAfloat, limp: Limp) -> Lying:
    up, body = limp.up, at_angles(diver.body, limp.angles)
    state = afloat(body, up, limp.level)
    pitch, roll = pitch_and_roll(up)
    return Lying(
        up=up,
        pitch=pitch,
        roll=roll,
        face=face(up),
        trunk_from_vertical=math.acos(min(1.0, max(-1.0, float(up[0])))),
        mouth_above_water=mouth_height(diver, limp),
        chest_above_water=float(up @ diver.chest) - limp.level,
        water_level=limp.level,
        displaced=state.volume,
        reserve_buoyancy=body.density * (_whole_volume(body, limp) - state.volume),
        under_water=_shares(diver, body, limp),
        joints=_joints(diver, limp),
    )


def _joints(diver: DiverAfloat, limp: Limp) -> dict[str, float]:
    """Angles of the joints [rad], by the names that a scenario's pose uses."""
    return {j.name.replace("_", " "): float(a) for j, a in zip(diver.body.joints, limp.angles, strict=True)}


def pose_of(diver: DiverAfloat, angles: Floats) -> Pose:
    """The pose of a diver afloat with the joints at ``angles`` (j,) [rad]."""
    return pose_at(diver.body.joints, angles, HANGING)


def _whole_volume(body: FloatingBody, limp: Limp) -> float:
    """All that could displace water [m^3], the gas as it is there."""
    gas = sum(float(gas_state(g, limp.up, limp.level)[0].volume.sum()) for g in body.gas)
    return sum(h.volume for h in body.hulls) + sum(float(s.volume.sum()) for s in body.specks) + gas


def _shares(diver: DiverAfloat, body: FloatingBody, limp: Limp) -> dict[str, float]:
    """Share under water of body parts, cylinders and wing, each perhaps of several hulls."""
    under, whole = dict.fromkeys(diver.names, 0.0), dict.fromkeys(diver.names, 0.0)
    for name, hull in zip(diver.names, body.hulls, strict=True):
        under[name] += hull_under(hull, limp.up, limp.level).volume
        whole[name] += hull.volume
    return {name: min(1.0, max(0.0, under[name] / whole[name])) for name in under}
