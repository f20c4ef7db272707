"""The cylinders that a plate carries ashore, as one mass at one place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from scenarios.cylinders import Cylinders
from sim.assembly.back_cylinders import on_back
from sim.assembly.placement import placement

ROOM: Final = 293.15  # K, of cylinders ashore


@dataclass(frozen=True, eq=False)
class Carried:
    """mass : [kg];  cm : (3,) [m] in the plate's frame."""

    mass: float
    cm: Floats


def carried_by(plate: Plate, cylinders: Cylinders) -> Carried:
    """Cylinders with gas, valves and bands as they lie on a plate; raises ValueError where they cannot."""
    parts = on_back(cylinders, plate, placement([0.0, 0.0, 0.0]), ROOM).parts
    masses = np.array([part.solid.mass for part in parts])
    cms = np.array([part.solid.cm for part in parts])
    return Carried(float(masses.sum()), masses @ cms / masses.sum())
