"""The check that divers do at the surface: upright, wing empty, half a breath held, eyes at the water line.

Common practice: with little gas left a diver who is weighted right then floats with the eyes at the water line, and
sinks on breathing out. The suit was vented standing upright, which squeezes the legs and leaves less in it than the
last venting under water. The posture of the limbs is the file's: it moves next to nothing here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from scenarios.by_key import told_otherwise
from scenarios.diver import Diver
from scenarios.quantities import SI
from scenarios.suit import DrySuit
from sim.answers.weigh.answer import SurfaceCheck
from sim.answers.weigh.ballast import LeadParts, in_water, with_lead
from sim.answers.weigh.conditions import Conditions, at_rest_changes
from sim.assembly.diver import chest_gas
from sim.assembly.refilled import GasSource, refilled
from sim.case import Case
from sim.floating.body import Hull, hull_of
from sim.floating.clip import immersion
from sim.person.posed_body import PosedBody
from sim.rig import Rig
from sim.statics.field import field, soft_rig

UPRIGHT: Final = np.array([[1.0, 0.0, 0.0]])
STANDING: Final = "90 deg"  # the trunk when the suit is vented at the surface
CM_UNDER_EYES: Final = 0.65  # m, of a diver in gear (assumed; a decimetre is 1 kPa of 108)
MASK_HEIGHT: Final = 0.08  # m, of which half stands over the eyes (from memory)
HALVINGS: Final = 30
Masses = Sequence[Mapping[GasSource, float]]


@dataclass(frozen=True, eq=False)
class _Head:
    """The head as a shape that the water line crosses, and how much of hood and mask goes with it.

    up : (3,) along the head's length;  eyes, chin, crown : heights along it [m]
    hood, mask : what they displace [m^3]; the hood comes out as the head does
    """

    hull: Hull
    up: Floats
    eyes: float
    chin: float
    crown: float
    hood: float
    mask: float

    def out(self, over_eyes: float) -> float:
        """What is out of the water [m^3] with the water line so far over the eyes [m]."""
        whole = self.hull.volume
        bare = whole - immersion(self.hull.mesh, self.up, self.eyes + over_eyes, self.hull.sums).volume
        mask = self.mask * float(np.clip(0.5 - over_eyes / MASK_HEIGHT, 0.0, 1.0))
        return float(bare * (1.0 + self.hood / whole) + mask)


def surface_check(case: Case, how: Conditions, lead: LeadParts, worn: float, masses: Masses) -> SurfaceCheck:
    """What the check shows with ``worn`` kg of lead.

    masses : gas in each source near the end [kg], and as the file says
    """
    scenario = case.scenario("")
    upright = case.vary(at_rest_changes(scenario, how) | _surfaced(scenario.suit))
    body = _body(upright)
    head = _head(body, upright)
    chest = half_breath(scenario.diver)
    spread = lead.spread(worn)
    found = [_floating(refilled(with_lead(upright.rig, spread), m)) for m in masses]
    water = upright.rig.water
    lungs = water.density * (chest - body.lungs.volume)
    out = head.out(0.0)
    floats, *full = [net + lungs - water.density * out for net, _ in found]
    return SurfaceCheck(
        chest_gas=chest,
        suit_gas=found[0][1],
        out_of_water=out,
        floats=floats,
        water_line=_water_line(head, (floats + water.density * out) / water.density),
        lead=max(worn + floats / in_water(upright.rig, lead.density), 0.0),
        full_floats=full[0] if full and masses[0] else None,
    )


def half_breath(diver: Diver) -> float:
    """Gas in the chest [m^3] halfway between as empty and as full as can be."""
    return 0.5 * sum(chest_gas(told_otherwise(diver, "breathing_level", level)) for level in ("full", "empty"))


def _surfaced(suit: object) -> dict[str, Any]:
    changes: dict[str, Any] = {"water.depth": SI(CM_UNDER_EYES)}
    if isinstance(suit, DrySuit):
        changes["suit.vented_head_up"] = STANDING
    return changes


def _body(case: Case) -> PosedBody:
    wearer = case.wearer
    if wearer is None:
        raise TypeError("a parts file has no body to float")
    return wearer.body


def _floating(rig: Rig) -> tuple[float, float | None]:
    """What the rig floats up with upright and wholly under water, its wing empty [kg], and its suit's gas [m^3]."""
    values = field(soft_rig(rig), UPRIGHT, wing_volume=0.0)
    return float(values.net_buoyancy[0]), None if values.suit is None else float(values.suit_gas[0])


def _head(body: PosedBody, case: Case) -> _Head:
    solid = dict(body.segments)["head"]
    if solid.mesh is None:
        raise TypeError("the head has no shape")
    up = body.placements["head"].rotation[:, 0]
    of_kind = {k: sum(p.solid.volume for p in case.rig.parts if p.kind == k) for k in ("hood", "mask")}
    heights = {name: float(body.landmarks[name] @ up) for name in ("eyes", "chin", "vertex")}
    hull = hull_of(solid.mesh)
    return _Head(hull, up, heights["eyes"], heights["chin"], heights["vertex"], of_kind["hood"], of_kind["mask"])


def _water_line(head: _Head, spare: float) -> float | None:
    """How far over the eyes [m] the water line comes to lie when so much of the head is out [m^3]; None for none."""
    low, high = head.chin - head.eyes, head.crown - head.eyes
    if not 0.0 < spare < head.out(low):
        return None
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if head.out(middle) > spare else (low, middle)
    return 0.5 * (low + high)
