"""Webbing that holds the plate: waist strap, shoulder straps, crotch strap, all through the plate's own slots."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from meshes.gear.webbing import belt_buckle, d_ring, webbing_lying
from meshes.memoized import memoized_on_body
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from meshes.solid import Solid, combined, mirrored
from scenarios.back_gear import Harness
from sim.assembly.clothing import Clothing
from sim.assembly.placement import Placement, frame_along, solid_at
from sim.assembly.strap_paths import Run, StrapPaths, strap_paths
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_plate import SeatedPlate
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.person.posed_body import PosedBody
from sim.rig import Part
from sim.said import word

# m from either end of the crotch strap to its ring: below the belt, below the plate (assumed)
CROTCH_RINGS: Final = 0.08
METAL_OUT: Final = 0.004  # m that buckle and rings stand out from the webbing (assumed)


def put_on_harness(on: DiverSoFar) -> Iterator[WornThing]:
    """The harness, if one is worn."""
    if on.scenario.harness is None:
        return
    lies, off = on.needed(SeatedPlate), on.needed(Clothing).under_straps
    with blaming("harness"):
        part = worn_harness(on.scenario.harness, lies.plate, lies.seat, on.body, off)
    yield WornThing("harness", (part,))


@memoized_on_body
def worn_harness(table: Harness, plate: Plate, seat: Placement, body: PosedBody, off: float) -> Part:
    """Harness as one part of the stated mass; its centre is that of its straps. ``off`` : clothing under it [m]."""
    paths = strap_paths(plate, seat, body, off, posed=True)
    left = combined([_ribbon(paths.over), _ribbon(paths.under)])
    drawn = combined([left, mirrored(left), _ribbon(paths.waist), _ribbon(paths.crotch), *_metal(paths)])
    share = table.mass / drawn.mass
    solid = replace(drawn, mass=table.mass, inertia=drawn.inertia * share, volume=table.mass / table.density)
    return Part(word("harness"), "harness", solid)


def _ribbon(run: Run) -> Solid:
    return webbing_lying(run.points, run.normals)


def _metal(paths: StrapPaths) -> list[Solid]:
    """Buckle in front, rings on both shoulder straps, at the left hip, and on the crotch strap before and behind."""
    front = int(np.abs(paths.waist.points[:, 1]).argmin())
    ring = _on(paths.over, len(paths.over.points) - 1, d_ring())
    hip = int(paths.waist.points[:, 1].argmax())
    crotch = [_along(paths.crotch, s, d_ring()) for s in (CROTCH_RINGS, paths.crotch.length - CROTCH_RINGS)]
    return [
        _on(paths.waist, front, belt_buckle()),
        ring,
        mirrored(ring),
        _hanging(paths.waist, hip, d_ring()),
        *crotch,
    ]


def _on(run: Run, index: int, solid: Solid) -> Solid:
    """Metal on a run of webbing, its x axis along it."""
    before, after = run.points[max(index - 1, 0)], run.points[min(index + 1, len(run.points) - 1)]
    return _placed(run.points[index], run.normals[index], after - before, solid)


def _along(run: Run, distance: float, solid: Solid) -> Solid:
    """Metal ``distance`` [m] along a run of webbing, its x axis along it."""
    at = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(run.points, axis=0), axis=1))])
    here, ahead = (np.array([np.interp(s, at, c) for c in run.points.T]) for s in (distance, distance + 0.01))
    outward = np.array([np.interp(distance, at, c) for c in run.normals.T])
    return _placed(here, outward / np.linalg.norm(outward), ahead - here, solid)


def _hanging(run: Run, index: int, solid: Solid) -> Solid:
    """A ring that hangs down from a run of webbing."""
    return _placed(run.points[index], run.normals[index], np.array([-1.0, 0.0, 0.0]), solid)


def _placed(point: Floats, outward: Floats, along: Floats, solid: Solid) -> Solid:
    return solid_at(Placement(frame_along(along, outward), point + METAL_OUT * outward), solid)
