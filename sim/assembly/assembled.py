"""A rig together with what people want to see and know of it."""

from __future__ import annotations

from dataclasses import dataclass

from meshes.mesh import Floats, Mesh
from meshes.wing_bag import WingBag
from sim.assembly.placement import Placement
from sim.rig import Rig


@dataclass(frozen=True, eq=False)
class SuitSkin:
    """Patches of the covered skin, in body axes; patch i lies under cell i of the suit's pocket.

    centre, normal : (n, 3) [m], outward unit;  area : (n,) [m^2]
    """

    centre: Floats
    normal: Floats
    area: Floats


@dataclass(frozen=True, eq=False)
class WingLooks:
    """The wing's bag in its own frame, and where that lies; its cells are those of the wing's pocket."""

    bag: WingBag
    where: Placement


@dataclass(frozen=True, eq=False)
class Looks:
    """What a picture needs beyond the rig: the person's skin [m, body axes], the suit's patches, the wing's bag.

    mouth : (3,) where the person breathes [m, body axes]
    """

    skin: Mesh
    suit: SuitSkin | None
    wing: WingLooks | None
    mouth: Floats


@dataclass(frozen=True, eq=False)
class Assembled:
    """What a file told, as solids and gas.

    title : a line naming the case;  estimated : inputs that were estimated, not given;  notes : plain sentences
    looks : None for a rig that was told by numbers alone
    """

    rig: Rig
    title: str
    estimated: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    looks: Looks | None = None
