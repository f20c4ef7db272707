"""The empty wing: its bag and the hose that gas comes through."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from meshes.gear.hose import inflator_hose
from meshes.gear.wing_bag import WingBag
from meshes.kept import kept_few
from meshes.solid import combined, scaled_to_mass
from scenarios.back_gear import Wing
from sim.assembly.placement import Placement, point_at, solid_at
from sim.person.posed_body import PosedBody
from sim.rig import Part


@kept_few
def worn_wing(table: Wing, bag: WingBag, where: Placement, body: PosedBody) -> Part:
    """Bag and inflator hose as one part of the stated mass, wherever the bag's frame is placed."""
    top = point_at(where, [0.42 * table.length, 0.0, 0.02])
    shoulder, notch = body.landmarks["left acromion"], body.landmarks["notch"]
    over = shoulder * [1.0, 0.6, 1.0] + np.array([0.05, 0.0, 0.02])
    end = np.array([float(notch[0]) - 0.08, 0.55 * float(shoulder[1]), float(notch[2]) - 0.02])
    drawn = combined([solid_at(where, bag.solid), inflator_hose(np.array([top, over, end]))])
    return Part("wing", "wing", replace(scaled_to_mass(drawn, table.mass), volume=table.mass / table.density))
