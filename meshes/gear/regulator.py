"""First stages, second stages and the pressure gauge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.gear.weighed import weighed
from meshes.loft import lathe, loft
from meshes.memoized import memoized
from meshes.mesh import Floats, Mesh, joined, moved
from meshes.primitives import rounded_box, superellipse
from meshes.solid import MIRROR, Solid, mirrored
from meshes.sweep import rod

BRASS: Final = 8400.0  # [kg/m^3] free-cutting brass 8500 (handbook table), with a few plastic and rubber parts
SECOND_STAGE: Final = 1500.0  # [kg/m^3] plastic case 1050-1200, brass valve, silicone; from memory, +-25 %
GAUGE: Final = 2500.0  # [kg/m^3] brass movement, glass, rubber boot, air in the case; from memory, +-25 %


@dataclass(frozen=True, eq=False)
class FirstStage:
    """First stage, screwed into a valve.

    Frame: origin at the centre of the valve's outlet face, +x away from the valve, the body's barrel along y, low
    pressure ports toward -z and +x. high_pressure (1, 3), low_pressure (4, 3): where hoses begin [m].
    """

    solid: Solid
    high_pressure: Floats
    low_pressure: Floats


@dataclass(frozen=True, eq=False)
class SecondStage:
    """Second stage.

    Frame: origin between the teeth, +x straight out of the mouth, y to the diver's left, z to the crown.
    hose_inlet : (3,) end of the hose [m], on the diver's right unless mirrored;  inlet_direction : (3,) unit, outward
    """

    solid: Solid
    hose_inlet: Floats
    inlet_direction: Floats


# +x of a lathe to +y
_ALONG_Y = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])


@memoized
def first_stage(mass: float = 0.70, *, mirror: bool = False) -> FirstStage:
    """First stage with hand wheel; ``mass`` [kg] (0.5-0.9, brass, +-20 %, from memory)."""
    wheel = lathe([
        (0.0, 0.0), (0.0, 0.018), (0.002, 0.0205), (0.018, 0.0205), (0.020, 0.018), (0.020, 0.0115),
        (0.030, 0.0115), (0.030, 0.0),
    ], 40)  # fmt: skip
    barrel = moved(
        lathe([
            (-0.034, 0.0), (-0.034, 0.014), (-0.031, 0.0165), (-0.020, 0.0165), (-0.019, 0.0195), (0.017, 0.0195),
            (0.018, 0.0225), (0.033, 0.0225), (0.036, 0.0195), (0.036, 0.0),
        ], 40),
        _ALONG_Y,
        [0.048, 0.0, 0.0],
    )  # fmt: skip
    low = np.array([[0.048, -0.009, -0.030], [0.048, 0.008, -0.030], [0.078, -0.009, 0.0], [0.078, 0.008, 0.0]])
    high = np.array([[0.048, -0.027, -0.027]])
    ends = np.vstack([low, high])
    starts = np.vstack([[[0.048, y, -0.017] for y in (-0.009, 0.008)], [[0.065, y, 0.0] for y in (-0.009, 0.008)]])
    starts = np.vstack([starts, [[0.048, -0.027, -0.015]]])
    ports = [rod(a, b, 0.0072, 6) for a, b in zip(starts, ends, strict=True)]
    solid = weighed(joined([wheel, barrel, *ports]), mass, BRASS)
    return FirstStage(mirrored(solid), high @ MIRROR, low @ MIRROR) if mirror else FirstStage(solid, high, low)


@memoized
def second_stage(mass: float = 0.22, *, held_gas: float = 0.0, mirror: bool = False) -> SecondStage:
    """Second stage with its hose on the diver's right; mirrored, on the left.

    mass : [kg] (0.15-0.3, +-20 %, from memory);  held_gas : gas on the dry side of the diaphragm while it is in the
    mouth [m^3], of the order of 50 ml; 0 for one that hangs flooded
    """
    case = lathe([
        (0.026, 0.0), (0.026, 0.020), (0.031, 0.0300), (0.036, 0.0345), (0.052, 0.0365), (0.056, 0.0365),
        (0.058, 0.0345), (0.060, 0.0310), (0.064, 0.0270), (0.067, 0.0180), (0.068, 0.0),
    ], 48)  # fmt: skip
    inlet = rod([0.044, -0.028, 0.0], [0.044, -0.056, 0.0], 0.0085)
    knob = rod([0.044, 0.028, 0.0], [0.044, 0.046, 0.0], 0.0080, 12)
    exhaust = moved(rounded_box([0.022, 0.088, 0.016], 0.006), None, [0.036, 0.0, -0.040])
    solid = weighed(joined([case, _mouthpiece(), inlet, knob, exhaust]), mass, SECOND_STAGE, held_gas)
    end, way = np.array([0.044, -0.056, 0.0]), np.array([0.0, -1.0, 0.0])
    return SecondStage(mirrored(solid), MIRROR @ end, MIRROR @ way) if mirror else SecondStage(solid, end, way)


def _mouthpiece() -> Mesh:
    """Flared rubber tube from the teeth to the case."""
    x = np.array([-0.006, -0.004, 0.000, 0.010, 0.020, 0.028])
    width = np.array([0.052, 0.056, 0.040, 0.032, 0.030, 0.030])
    depth = np.array([0.018, 0.021, 0.017, 0.018, 0.022, 0.024])
    rings = [
        np.column_stack([np.full(32, s), superellipse(32, w, d)]) for s, w, d in zip(x, width, depth, strict=True)
    ]
    return loft(np.stack(rings))


def pressure_gauge(mass: float = 0.25) -> Solid:
    """Pressure gauge in a rubber boot; ``mass`` [kg] (0.2-0.35, from memory).

    Frame: origin at the end of its hose, +x away from the hose, dial toward +z.
    """
    stem = rod([0.0, 0.0, 0.0], [0.022, 0.0, 0.0], 0.008, 12)
    dial = lathe([
        (-0.013, 0.0), (-0.013, 0.026), (-0.010, 0.0305), (0.009, 0.0315), (0.013, 0.0295), (0.013, 0.0255),
        (0.0115, 0.0245), (0.0115, 0.0),
    ], 48)  # fmt: skip
    # +x of the lathe to +z
    upright = np.array([[0.0, 0.0, -1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]])
    return weighed(joined([stem, moved(dial, upright, [0.048, 0.0, 0.0])]), mass, GAUGE)
