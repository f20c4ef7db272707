"""What one picture of a hanging diver is made from: shapes in body axes and the figures to write beside them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Mesh
from sim.rig import Kind, Part


@dataclass(frozen=True, eq=False)
class SuitGas:
    """The suited skin in patches, with the gas over each.

    centre : (n, 3) [m] body axes, on the skin;  normal : (n, 3) unit, outward;  area : (n,) [m^2]
    thickness : (n,) of the gas layer [m], as computed (the picture enlarges it and says by how much)
    covered : (n,) True where a plate lies on the suit; there the layer is drawn as thick as it is
    """

    centre: Floats
    normal: Floats
    area: Floats
    thickness: Floats
    covered: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class WingGas:
    """The wing's bag and the gas in it.

    bag : outside of the bag in body axes [m], already shaped by its fill
    cells : (n, 3) [m] body axes;  volume : (n,) of gas in each cell [m^3]
    """

    bag: Mesh
    cells: Floats
    volume: Floats


@dataclass(frozen=True, eq=False)
class LooseGas:
    """Gas drawn as bubbles: centre (n, 3) [m] body axes, volume (n,) [m^3]."""

    centre: Floats
    volume: Floats


@dataclass(frozen=True, eq=False)
class HangingScene:
    """A diver with gear in one attitude. Everything that has a place is in body axes [m].

    parts : rigid items; those without a mesh, and the body where ``skin`` is given, are not drawn
    skin : outside of the body, unsuited; None for a rig without a person
    worn : what covers the skin: a kind and (v,) True at the vertices it covers; the later lies over the earlier
    hands : bare, with fingers, drawn where ``worn`` has the body itself; None where they are gloved
    up : (3,) the world's up direction in body axes;  pitch, roll : [rad] of the same attitude
    cm, cb : (3,) centres of the whole, gas included, in this attitude
    mass : of the whole [kg];  net_buoyancy : [kg], plus floats
    trimming_moment : about the pitch axis when held flat [N m], plus turns head-up
    loose_gas : gas of which no more than place and volume is known
    gas_scale : how many times the suit's gas layer is drawn thicker than it is
    """

    parts: tuple[Part, ...]
    skin: Mesh | None
    up: Floats
    pitch: float
    roll: float
    cm: Floats
    cb: Floats
    mass: float
    net_buoyancy: float
    trimming_moment: float
    title: str
    caption: tuple[str, ...] = ()
    caution: str = ""
    worn: tuple[tuple[Kind, NDArray[np.bool_]], ...] = ()
    hands: Mesh | None = None
    suit: SuitGas | None = None
    wing: WingGas | None = None
    loose_gas: LooseGas | None = None
    gas_scale: float = 4.0


@dataclass(frozen=True)
class DrawnPicture:
    """A picture as written.

    renderer : "shaded" (rendered off-screen by VTK) or "vector" (flat shapes, no graphics library needed)
    note : why the shaded way was not taken, in a sentence; empty when nothing is to be said
    """

    path: Path
    renderer: str
    note: str = ""
