"""A rig together with what people want to see and know of it."""

from __future__ import annotations

from dataclasses import dataclass

from meshes.mesh import Floats, Mesh
from meshes.plate.back_plate import Plate
from sim.assembly.back_cylinders import BackCylinders
from sim.assembly.drawn_plate import DrawnPlate
from sim.assembly.placement import Placement
from sim.assembly.suit_gas import SuitSkin
from sim.assembly.worn_wing import WingLooks
from sim.person.posed_body import PosedBody
from sim.rig import Part, Rig


@dataclass(frozen=True, eq=False)
class Looks:
    """What a picture needs beyond the rig: the person's skin [m, body axes], the suit's patches, the wing's bag.

    mouth : (3,) where the person breathes [m, body axes]
    hands : with fingers, for looks alone: what they weigh and displace is the body's [m, body axes]
    segments : closed outside of each body segment [m, body axes], with the name of the item it belongs to
    """

    skin: Mesh
    suit: SuitSkin | None
    wing: WingLooks | None
    mouth: Floats
    hands: Mesh
    segments: tuple[tuple[str, Mesh], ...]


@dataclass(frozen=True)
class Mobility:
    """What is taken off the joints' ranges [rad], each 0 or more.

    shoulder_bulk, neck_bulk : by what is worn, both sides alike
    stiff_left_shoulder, stiff_right_shoulder : by the diver's own shoulder, besides
    elbow_bulk : by the suit, off how far either elbow bends
    """

    shoulder_bulk: float
    neck_bulk: float
    stiff_left_shoulder: float
    stiff_right_shoulder: float
    elbow_bulk: float


@dataclass(frozen=True, eq=False)
class Worn:
    """What the answers on fit are worked out from; all in body axes [m], trunk standing.

    body : posed as told;  plate : in its own frame;  seat : where that lies
    padding, under_straps : clothing squeezed under the plate and under webbing
    clothing : on the trunk, not squeezed;  hood : its thickness
    drop : how far below the natural waist the plate's waist slots hang
    shift : how far the cylinders are from their usual place on the plate, plus headward
    cylinders : None when none are worn on the back;  first_stages : each as a part of its own, right one first
    """

    body: PosedBody
    plate: Plate
    seat: Placement
    padding: float
    under_straps: float
    clothing: float
    hood: float
    drop: float
    shift: float
    cylinders: BackCylinders | None
    first_stages: tuple[Part, ...]
    mobility: Mobility


@dataclass(frozen=True, eq=False)
class Assembled:
    """What a file told, as solids and gas.

    title : a line naming the case;  estimated : inputs that were estimated, not given;  notes : plain sentences
    looks, worn : None for a rig that was told by numbers alone;  worn : None too without plate and harness
    drawn : of a plate that comes from a drawing, None without one
    """

    rig: Rig
    title: str
    estimated: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    looks: Looks | None = None
    worn: Worn | None = None
    drawn: DrawnPlate | None = None
