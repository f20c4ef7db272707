"""What the fit drawing is made from: the diver standing with the rig on, and what was found, in body axes [m]."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from meshes.mesh import Floats, Mesh
from meshes.plate.back_plate import Plate
from sim.answers.fit.verdict import Verdict
from sim.assembly.placement import Placement
from sim.person.posed_body import PosedBody


@dataclass(frozen=True, eq=False)
class DrawnHand:
    """How far one hand gets.

    chain : (4, 3) shoulder, elbow, wrist and the hand's grip in the best posture found;  knob : (3,) wanted
    behind, beside : rings (n, 3) about what the grip gets to near the knob, in the plane through it across the back
        and in the one along the body;  radius : within which of the knob that was looked at
    margin : to spare [m], minus what is missing, -inf where the hand has no way there
    """

    side: Literal["left", "right"]
    chain: Floats
    knob: Floats
    behind: tuple[Floats, ...]
    beside: tuple[Floats, ...]
    radius: float
    margin: float


@dataclass(frozen=True, eq=False)
class DrawnLift:
    """The head lifted as far as it goes.

    head : lifted;  pivot : (3,) of the neck;  eyes_before, eyes : (3,) unlifted and lifted
    sight : (3,) unit, the way the lifted eyes can look;  lift : how far the head turned [rad]
    contact : (3,) where hood and rig meet, None where the neck stops first
    below_ahead : from straight ahead down to the line of sight, flat [rad], 0 or less where straight ahead is seen
    """

    head: Mesh
    pivot: Floats
    eyes_before: Floats
    eyes: Floats
    sight: Floats
    lift: float
    contact: Floats | None
    below_ahead: float


@dataclass(frozen=True, eq=False)
class FitScene:
    """One diver in one rig.

    body : standing, arms hanging;  harness : the webbing's mesh;  plate in its own frame, ``seat`` its placement
    cylinders, bands : drawn see-through;  valves : valves, manifold and first stages, drawn solid
    strap : x of the waist strap;  drop : how far below the natural waist the slots hang
    straps_to_cut : name and length of each piece of webbing to cut;  carried : what it is to carry ashore, in words
    """

    title: str
    subtitle: str
    body: PosedBody
    plate: Plate
    seat: Placement
    harness: Mesh | None
    cylinders: tuple[Mesh, ...]
    bands: tuple[Mesh, ...]
    valves: tuple[Mesh, ...]
    strap: float
    drop: float
    hands: tuple[DrawnHand, ...] = ()
    lift: DrawnLift | None = None
    verdicts: tuple[Verdict, ...] = ()
    straps_to_cut: tuple[tuple[str, float], ...] = ()
    carried: str = ""
    caution: str = ""

    @property
    def cylinder_bottom(self) -> float | None:
        """Height of the cylinders' lower ends, None without cylinders."""
        return min((float(m.vertices[:, 0].min()) for m in self.cylinders), default=None)
