"""Where the gas in the lungs displaces water, and where it pushes the organs."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body.trunk import TrunkSurface
from meshes.mesh import Floats
from meshes.solid import Solid

# Lung pressure centroid: Taylor & Morrison 1989, Undersea Biomed Res 16:3. It is where the pressures on chest and
# belly balance, taken here for where the gas lies, of which no measurement was found. By anatomy (from memory: tops
# 2 to 3 cm over the notch, domes 14 cm and lowest edges 20 cm under it, over half of the chest's section between) the
# gas lies about 4 cm higher: 0.18 cm of a man's CB at FRC, 1.3 N m head-up for 75 kg, well inside the 0.5 cm that
# CB - CM is unsure by. Growth with breath does not hang on it, for ADDED_LOWER was fitted on top of it.
BELOW_NOTCH: Final = 0.136  # m footward of the sternal notch, 17 people upright
BEHIND_STERNUM: Final = 0.070  # m behind the sternal plane, 13 people prone
# Gas beyond FRC lies lower, as the diaphragm goes down; assumed, so that CB - CM grows by about 1.15 cm for an
# inhalation of 3.3 L (Maruyama, Konda & Yanai 2012, Jpn J Phys Educ 57:641: 1.11 cm abdominal, 1.21 cm chest)
ADDED_LOWER: Final = 0.05  # m
WALL_FORWARD: Final = 0.6  # of the way from mid-trunk to the front where the walls move, on average (assumed)


def lung_centroid(trunk: TrunkSurface) -> Floats:
    """Centre (3,) [m] of the lungs at FRC in body axes."""
    h = trunk.skeleton.heights
    return np.array([h["notch"] - BELOW_NOTCH, 0.0, _front(trunk)[0] + BEHIND_STERNUM])


def moving_wall(trunk: TrunkSurface) -> Floats:
    """Where chest and belly come forward as the lungs fill (3,) [m], half and half (assumed)."""
    h = trunk.skeleton.heights
    chest, belly = 0.5 * (h["chest"] + h["xiphoid"]), 0.5 * (h["xiphoid"] + h["navel"])
    z = WALL_FORWARD * 0.5 * (_front(trunk)[1] + _front(trunk)[2])
    return np.array([0.5 * (chest + belly), 0.0, z])


def lung_solid(trunk: TrunkSurface, gas: float, frc: float) -> Solid:
    """The lungs as a thing without mass (4 g at the surface, 20 g at 40 m, left out) that displaces ``gas`` [m^3].

    FRC displaces at the lungs; what is beyond (or short of) it shows where the chest and belly walls move.
    """
    centre = (frc * lung_centroid(trunk) + (gas - frc) * moving_wall(trunk)) / gas
    return Solid(mass=0.0, cm=centre, inertia=np.zeros((3, 3)), volume=gas, cb=centre)


def organ_moment(trunk: TrunkSurface, gas: float, frc: float) -> Floats:
    """First moment of volume (3,) [m^4] by which organs are displaced when ``gas`` differs from ``frc`` [m^3].

    The outside gains the volume at the walls, the gas gains it at the lungs' lower part: the tissue between moves.
    """
    added = lung_centroid(trunk) - np.array([ADDED_LOWER, 0.0, 0.0])
    return np.asarray((gas - frc) * (moving_wall(trunk) - added))


@lru_cache(maxsize=4)
def _front(trunk: TrunkSurface) -> tuple[float, float, float]:
    """z [m] of the front of the trunk at the sternum, chest and belly."""
    h = trunk.skeleton.heights
    x = [0.5 * (h["notch"] + h["xiphoid"]), 0.5 * (h["chest"] + h["xiphoid"]), 0.5 * (h["xiphoid"] + h["navel"])]
    sternum, chest, belly = trunk.at(np.array(x), np.zeros(3))[:, 2].tolist()
    return sternum, chest, belly
