"""One fin: foot pocket, blade with side rails, heel strap."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from meshes.gear.weighed import evened, weighed
from meshes.loft import loft
from meshes.memoized import memoized_on_body
from meshes.mesh import Floats, Mesh, joined
from meshes.primitives import superellipse
from meshes.solid import Solid, combined, mirrored, scaled_to_mass, solid_of, volume_integrals
from meshes.sweep import smooth_path, tube

FinMaterial = Literal["rubber", "plastic"]

# density [kg/m^3] and mass of one fin [kg]: rubber 1150-1300 and 1.2-1.8, plastic (polypropylene 905 with a rubber
# pocket) near neutral and 0.7-1.1; from memory
FIN_MATERIALS: Final[dict[FinMaterial, tuple[float, float]]] = {"rubber": (1250.0, 1.5), "plastic": (1040.0, 0.9)}
POCKET_WALL, BLADE, RAIL_ROOT, RAIL_TIP = 0.0055, 0.0060, 0.034, 0.011  # [m] thicknesses before they are fitted
STRAP, COIL = 0.0055, 0.0070  # [m] radius of a rubber strap and of a spring's windings, from memory
STAINLESS: Final = 8000.0  # [kg/m^3] 304 and 316, handbook table
DROOP: Final = np.radians(10.0)  # blade against sole; common practice is 10-20 degrees


@dataclass(frozen=True)
class _Fin:
    foot_length: float
    length: float
    width: float
    stations: int
    points: int


@memoized_on_body
def fin(
    material: FinMaterial = "rubber",
    *,
    mass: float | None = None,
    length: float = 0.60,
    width: float = 0.215,
    foot_length: float = 0.29,
    density: float | None = None,
    spring: float | None = None,
    mirror: bool = False,
    stations: int = 40,
    points: int = 96,
) -> Solid:
    """Open-heel fin of the left foot; ``mirror`` makes the right one (the shape is its own mirror image).

    Frame: origin under the ankle joint on the sole of the boot, +x to toes and blade tip, y left, z up from the sole.
    mass : of one fin with its rubber strap [kg];  length : back of the pocket to blade tip [m]
    width : of the blade [m];  foot_length : outside length of the boot in it [m]
    density : [kg/m^3], None takes the material's
    spring : mass of a steel spring that takes the rubber strap's place round the heel [kg], None for the strap
    Wall thicknesses are scaled together until shape and density give the mass. Raises ValueError when that needs
    walls under 0.3 or over 3 times the usual.
    """
    usual_density, usual_mass = FIN_MATERIALS[material]
    rho = usual_density if density is None else density
    weight = usual_mass if mass is None else mass
    if not (weight > 0.0 and rho > 0.0 and 0.15 < foot_length < length and width > 0.1):
        raise ValueError(
            "a fin is longer than the foot in it, more than 10 cm wide, and weighs something; this one is "
            f"{100.0 * length:.3g} cm long and {100.0 * width:.3g} cm wide on a foot of {100.0 * foot_length:.3g} cm "
            f"(15 cm or more), with {weight:.3g} kg and {rho:.4g} kg/m^3"
        )
    if spring is not None and not spring > 0.0:
        raise ValueError(f"a fin's spring weighs more than nothing, got {spring} kg")
    shape = _Fin(foot_length, length, width, stations, points)
    shell = solid_of(_shell(shape, _wall_factor(shape, weight / rho)), rho)
    strap = solid_of(_strap(shape, STRAP), rho)
    # the walls were fitted to the mass with the rubber strap; what is left of the root's tolerance goes to the shell
    shell = scaled_to_mass(shell, weight - strap.mass)
    made = evened(combined([shell, strap if spring is None else weighed(_strap(shape, COIL), spring, STAINLESS)]))
    return mirrored(made) if mirror else made


def _wall_factor(shape: _Fin, volume: float) -> float:
    """Factor on all wall thicknesses that makes the material's volume [m^3]."""
    from scipy.optimize import brentq

    strap = volume_integrals(_strap(shape, STRAP)).volume
    # the blade's volume goes with its thickness exactly
    blade = volume_integrals(_blade(shape, 1.0)).volume

    def excess(factor: float) -> float:
        return volume_integrals(_pocket(shape, factor * POCKET_WALL)).volume + factor * blade + strap - volume

    thin, thick = excess(0.3), excess(3.0)
    if not thin < 0.0 < thick:
        raise ValueError(
            f"a fin of this size has {(volume + thin) * 1e3:.2f} to {(volume + thick) * 1e3:.2f} l of material, "
            f"not {volume * 1e3:.2f} l; check mass, density and length"
        )
    return float(brentq(excess, 0.3, 3.0, xtol=1e-12))


def _shell(shape: _Fin, factor: float) -> Mesh:
    """Pocket and blade."""
    return joined([_pocket(shape, factor * POCKET_WALL), _blade(shape, factor)])


def _pocket(shape: _Fin, wall: float) -> Mesh:
    """Shoe-like cup from a slanted opening over the instep to the toes, sole at z = 0."""
    toe = 0.76 * shape.foot_length + 0.006
    # stations crowd toward the toes so that the round end is smooth in their number
    share = 1.0 - (1.0 - np.linspace(0.0, 1.0, shape.stations)) ** 2
    rim = _pocket_rings(shape, share, toe, 0.0)
    outer = _pocket_rings(shape, share, toe, wall)
    # from the inside of the toe back to the opening, round its rim and forward along the outside
    return loft(np.concatenate([rim[::-1], outer]))


def _pocket_rings(shape: _Fin, share: Floats, toe: float, wall: float) -> Floats:
    """Sections (k, points, 3) at ``share`` of the way from opening to toes, grown by ``wall`` [m]."""
    scale = shape.foot_length / 0.29
    ahead = np.clip((share - 0.45) / 0.55, 0.0, 1.0)
    width = scale * (0.100 + 0.018 * np.sin(np.pi * share / 1.2)) * np.sqrt(1.0 - ahead**4)
    tall = scale * (0.098 - 0.042 * share)
    height = tall * np.sqrt(1.0 - ahead**6)
    grown = np.where(width > 0.0, 2.0 * wall, 0.0)
    # the sole stays at z = 0 until the toes curl up to a point at a third of their height
    level = 0.5 * tall * (1.0 - 0.35 * ahead**4)
    outline = superellipse(2 * shape.points // 3, 1.0, 1.0, 2.6)
    y = np.outer(width + grown, outline[:, 0])
    z = level[:, None] + np.outer(height + grown, outline[:, 1])
    # the opening leans: low behind the heel plate, high over the instep
    low = 1.0 / (1.0 + np.exp((z - 0.014) / 0.004))
    lean = (1.0 - share[:, None]) ** 2 * (0.62 * z - 0.045 * low)
    x = 0.005 + ((toe + wall * share - 0.005) * share)[:, None] + lean
    return np.stack([x, y, z], axis=2)


def _blade(shape: _Fin, factor: float) -> Mesh:
    """Blade with thick side rails and two low ribs, from under the ball of the foot to the tip."""
    root, tip = 0.36 * shape.foot_length, shape.length + 0.005
    share = np.linspace(0.0, 1.0, shape.stations)
    grow = np.clip((share - 0.10) / 0.45, 0.0, 1.0)
    ease = grow * grow * (3.0 - 2.0 * grow)
    pocket_width = 0.118 * shape.foot_length / 0.29
    width = (pocket_width + (shape.width - pocket_width) * ease) * (
        1.0 - 0.05 * np.clip((share - 0.8) / 0.2, 0, 1) ** 2
    )
    angle = 2.0 * np.pi * (np.arange(shape.points) + 0.5) / shape.points
    across, side = np.cos(angle), np.sin(angle)
    edge = np.tanh(side / 0.2) / np.tanh(5.0)  # full thickness but for a rounded edge
    rail = _bump((np.abs(across) - 0.93) / 0.09)
    rib = _bump((np.abs(across) - 0.38) / 0.20)
    rings = np.empty((len(share), shape.points, 3))
    for i, s in enumerate(share):
        blade = BLADE * (1.25 - 0.6 * s)
        rise = min(1.0, 5.0 * s)
        rails = blade + (RAIL_ROOT + (RAIL_TIP - RAIL_ROOT) * s - blade) * rise * rise * (3.0 - 2.0 * rise)
        thick = blade + (rails - blade) * rail + 0.5 * blade * rib * (1.0 - s)
        # the tip is drawn out a little at the rails, as most blades are
        rings[i, :, 0] = root + (tip - root) * s + 0.018 * s**6 * (across**2 - 0.5)
        rings[i, :, 1] = 0.5 * width[i] * across
        rings[i, :, 2] = 0.5 * factor * thick * edge
    return _drooped(loft(rings), root)


def _drooped(mesh: Mesh, root: float) -> Mesh:
    """Blade turned about its root toward the sole, the turn eased in so that it grows out of the pocket."""
    points = np.array(mesh.vertices)
    ahead = np.maximum(points[:, 0] - root, 0.0)
    points[:, 2] += 0.012 - np.tan(DROOP) * ahead**2 / (ahead + 0.10)
    return Mesh(points, mesh.faces)


def _bump(distance: Floats) -> Floats:
    """Smooth hump of height 1 at distance 0, gone at distance 1."""
    inside = np.clip(1.0 - distance**2, 0.0, 1.0)
    return np.asarray(inside**3)


def _strap(shape: _Fin, radius: float) -> Mesh:
    """Heel strap or spring, round with ``radius`` [m], from one side of the pocket round the heel to the other."""
    scale = shape.foot_length / 0.29
    through = scale * np.array([
        [0.055, 0.057, 0.040], [0.00, 0.055, 0.046], [-0.055, 0.036, 0.054],
        [-0.078, 0.0, 0.058],
        [-0.055, -0.036, 0.054], [0.00, -0.055, 0.046], [0.055, -0.057, 0.040],
    ])  # fmt: skip
    return tube(smooth_path(through, 0.012), radius, 12)
