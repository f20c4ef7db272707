"""How a diver who lies back afloat hangs on what is not known of body and limbs; a few minutes:

    .venv/bin/python scripts/surface_error.py

Each demo diver as told, and with one thing otherwise: the trunk's centre of buoyancy half a centimetre headward or
footward, the legs no further apart than at ease, limbs without any stiffness of their own, a chest half a litre
fuller or emptier. Told of each: the trunk from the vertical, the mouth over the water, what rights a diver tipped by
10 degrees to a side with limbs kept still and with limp ones, and what pushes an upright diver forward.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

import numpy as np

from scenarios.demos import demo_path
from sim.answers.settle.afloat.surface import surface_diver
from sim.assembly.afloat import DiverAfloat
from sim.assembly.afloat_attitudes import HELD, RELAXED, TIPPED, stiffened
from sim.assembly.limp_joints import angles_of
from sim.assembly.tipped_head import following, mouth_height
from sim.case import Case
from sim.floating.articulated import Articulated, carried_hull
from sim.floating.body import Hull
from sim.floating.joint import Joint
from sim.floating.limp import Limp, limp_from
from sim.person.tissue import CB_CM_UNCERTAINTY

DEMOS = ("small-woman-steel", "small-woman-carbon", "tall-man-steel", "tall-man-carbon", "single-wetsuit")
LEGS_AT_EASE = math.radians(6.0)
CHEST = 0.5e-3  # m^3
TRUNK_HULLS = 3  # the first of the root
LONG_AXIS = np.array([1.0, 0.0, 0.0])
FORWARD = np.array([0.0, 1.0, 0.0])


def main() -> None:
    print(f"{'':<38}{'trunk':>8}{'mouth':>8}{'still':>8}{'limp':>8}{'upright':>9}")
    print(f"{'':<38}{'[deg]':>8}{'[mm]':>8}{'[N m]':>8}{'[N m]':>8}{'[N m]':>9}")
    for demo in DEMOS:
        diver = surface_diver(Case.read(demo_path(demo))).diver
        for name, changed in variants(diver):
            numbers = told(changed)
            print(f"{demo + ', ' + name:<38}" + "".join(f"{n:>8.1f}" for n in numbers), flush=True)


def variants(diver: DiverAfloat) -> Iterator[tuple[str, DiverAfloat]]:
    """The diver as told, and with one thing otherwise."""
    yield "as told", diver
    for way, name in ((1.0, "CB headward"), (-1.0, "CB footward")):
        # the CB is the whole body's, of which the trunk has about half
        yield name, _trunk(diver, partial(_shifted, headward=2.0 * way * CB_CM_UNCERTAINTY))
    for way, name in ((1.0, "chest fuller"), (-1.0, "chest emptier")):
        own = sum(h.volume for h in diver.body.links[0].hulls[:TRUNK_HULLS])
        yield name, _trunk(diver, partial(_swollen, factor=1.0 + way * CHEST / own))
    yield "legs at ease", _joints(diver, _at_ease)
    yield "no stiffness", _joints(diver, partial(replace, spring=None))


def told(diver: DiverAfloat) -> tuple[float, ...]:
    """Trunk from the vertical [degrees], mouth [mm], righting moments and the push on an upright diver [N m]."""
    follow, start = following(diver), angles_of(diver.body.joints, RELAXED)
    up, about = HELD["face up"]
    lying = limp_from(diver.body, up, start, about=about, follow=follow)
    upright = limp_from(diver.body, HELD["upright"][0], start, held=True, follow=follow)
    if lying is None or upright is None:
        raise ValueError("the diver sinks")
    still, limp = _tipped(stiffened(diver.body, lying.angles), lying), _tipped(diver.body, lying)
    return (
        math.degrees(math.acos(float(lying.up[0]))),
        1e3 * mouth_height(diver, lying),
        still,
        limp,
        float(upright.moment @ FORWARD),
    )


def _tipped(body: Articulated, lying: Limp) -> float:
    """What brings the diver back from TIPPED to a side [N m], the neck kept as it was."""
    neck = replace(body.joints[0], low=float(lying.angles[0]), high=float(lying.angles[0]))
    kept = replace(body, joints=(neck, *body.joints[1:]))
    up, axis = np.array([0.05, np.sin(TIPPED), -np.cos(TIPPED)]), np.array([0.0, np.cos(TIPPED), np.sin(TIPPED)])
    found = limp_from(kept, up, lying.angles, about=axis)
    return float("nan") if found is None else float(found.moment @ LONG_AXIS)


def _at_ease(joint: Joint) -> Joint:
    return replace(joint, high=LEGS_AT_EASE) if "hip_abduction" in joint.name else joint


def _joints(diver: DiverAfloat, change: Callable[[Joint], Joint]) -> DiverAfloat:
    return replace(diver, body=replace(diver.body, joints=tuple(change(j) for j in diver.body.joints)))


def _trunk(diver: DiverAfloat, change: Callable[[Hull], Hull]) -> DiverAfloat:
    """The diver with the hulls of the trunk changed."""
    root = diver.body.links[0]
    hulls = (*(change(h) for h in root.hulls[:TRUNK_HULLS]), *root.hulls[TRUNK_HULLS:])
    return replace(diver, body=replace(diver.body, links=(replace(root, hulls=hulls), *diver.body.links[1:])))


def _shifted(hull: Hull, *, headward: float) -> Hull:
    return carried_hull(hull, np.eye(3), headward * LONG_AXIS)


def _swollen(hull: Hull, *, factor: float) -> Hull:
    """The same hull displacing ``factor`` times as much."""
    return replace(hull, share=hull.share * factor, volume=hull.volume * factor, first=hull.first * factor)


if __name__ == "__main__":
    main()
