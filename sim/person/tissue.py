"""Mass, tissue volume, centre and inertia of each body segment of a standing person.

Masses and centres are de Leva's (1996). Where the survey's landmark and de Leva's end point are not the same point
(the hip joint of women above all), the length that his fractions refer to is his own, scaled by how the person's
segment compares with that of his mean subject; thigh centres are reckoned from the knee.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import Final

import numpy as np

from meshes.body.section import section_centroid
from meshes.body.skeleton import Skeleton, skeleton_of
from meshes.body.topology import KIND_OF, SEGMENTS, TWIN_OF
from meshes.mesh import Floats, Mesh
from meshes.solid import MIRROR
from sim.person.measures import Sex, estimated_measures
from sim.person.segment_tables import REFERENCE_MASS, REFERENCE_STATURE, de_leva_table

# Row of de Leva's table by kind of segment, first the one whose end points the centre is reckoned from
ROWS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "head": "head2", "upper trunk": "upper_trunk", "middle trunk": "middle_trunk", "lower trunk": "lower_trunk",
        "upper arm": "upper_arm", "forearm": "forearm", "hand": "hand2", "thigh": "thigh", "shank": "shank",
        "foot": "foot",
    }
)  # fmt: skip

# Density of each region over that of the thigh's neighbours; only the ratios count. Clauser, McConville & Young 1969
# (kg/m^3, as listed by Yeadon 1990); the trunk is his 1019 with about 1 L of lung gas taken out.
REGION_DENSITY: Final[Mapping[str, float]] = MappingProxyType(
    {
        "head": 1070.0, "upper trunk": 1050.0, "middle trunk": 1050.0, "lower trunk": 1050.0, "upper arm": 1056.0,
        "forearm": 1089.0, "hand": 1109.0, "thigh": 1044.0, "shank": 1085.0, "foot": 1084.0,
    }
)  # fmt: skip
# Women carry fat on hips and thighs. Assumed: fat of leg and trunk by X-ray absorptiometry asks for about 0.98
# (from memory), the CB - CM of women swimmers, arms overhead (McLean & Hinrichs 1998, J Sports Sci 16:373), for 0.95
WOMEN_FACTOR: Final[Mapping[str, float]] = MappingProxyType({"lower trunk": 0.965, "thigh": 0.965})
CB_CM_UNCERTAINTY: Final = (
    0.005  # m, SD of CB - CM along the body, from the spread of published models and measurements
)


@dataclass(frozen=True, eq=False)
class Tissue:
    """One segment of the standing body: mass [kg], volume [m^3], centre (3,) [m] of both, inertia (3, 3) [kg m^2]."""

    mass: float
    volume: float
    centre: Floats
    inertia: Floats


def kind_of(segment: str) -> str:
    """Segment name without its side."""
    return KIND_OF[segment]


def segment_masses(sex: Sex, mass: float) -> dict[str, float]:
    """Mass [kg] of each segment by de Leva's fractions, made to add up to ``mass`` exactly."""
    table = de_leva_table()
    fractions = {name: table[ROWS[kind_of(name)], sex].mass for name in SEGMENTS}
    total = sum(fractions.values())
    return {name: mass * f / total for name, f in fractions.items()}


def segment_densities(sex: Sex, masses: Mapping[str, float], density: float) -> dict[str, float]:
    """Tissue density [kg/m^3] of each segment, in published ratios, so that the whole has ``density``."""
    ratio = {}
    for name in masses:
        kind = kind_of(name)
        ratio[name] = REGION_DENSITY[kind] * (WOMEN_FACTOR.get(kind, 1.0) if sex == "female" else 1.0)
    whole = sum(masses.values())
    level = density * sum(masses[n] / ratio[n] for n in masses) / whole
    return {name: level * r for name, r in ratio.items()}


def tissue_segments(
    sex: Sex, skeleton: Skeleton, meshes: Mapping[str, Mesh], mass: float, density: float, lungs: tuple[float, float]
) -> dict[str, Tissue]:
    """Tissue of all sixteen segments of the standing body, arms hanging.

    meshes : closed mesh of each left and midline segment, standing; their sections give the centres' offsets
    lungs : their gas at FRC [m^3] and the z of its centre [m]
    """
    masses = segment_masses(sex, mass)
    densities = segment_densities(sex, masses, density)
    done: dict[str, Tissue] = {}
    for name, m in masses.items():
        if name in TWIN_OF:
            twin = done[TWIN_OF[name]]
            done[name] = Tissue(m, m / densities[name], MIRROR @ twin.centre, MIRROR @ twin.inertia @ MIRROR)
            continue
        centre, length = _centre(sex, kind_of(name), skeleton, meshes[name])
        done[name] = Tissue(m, m / densities[name], centre, _inertia(sex, kind_of(name), m, length))
    return done | _round_the_lungs(done, *lungs)


def _round_the_lungs(segments: Mapping[str, Tissue], gas: float, z: float) -> dict[str, Tissue]:
    """Upper and middle trunk moved front to back so that tissue and lungs together fill the outline about its centre.

    Headward no move is due: there de Leva's centres are those of living people, lungs and all.
    """
    chest = {name: segments[name] for name in ("upper trunk", "middle trunk")}
    volume = sum(t.volume for t in chest.values())
    outline = sum(t.volume * float(t.centre[2]) for t in chest.values()) / volume
    shift = np.array([0.0, 0.0, gas * (outline - z) / volume])
    return {name: replace(t, centre=t.centre + shift) for name, t in chest.items()}


def _centre(sex: Sex, kind: str, skeleton: Skeleton, mesh: Mesh) -> tuple[Floats, float]:
    """Centre (3,) and the length [m] to which the radii of gyration refer."""
    row = de_leva_table()[ROWS[kind], sex]
    length = row.length * _span(skeleton, kind) / _span(_mean_subject(sex), kind)
    h, j = skeleton.heights, skeleton.joints
    if kind == "foot":
        heel = float(mesh.vertices[:, 2].max())
        z = heel - row.cm * length
        across = section_centroid(mesh, 2, z)
        return np.array([across[0], across[1], z]), length
    from_end = {
        "head": h["vertex"], "upper trunk": h["notch"], "middle trunk": h["xiphoid"], "lower trunk": h["navel"],
        "upper arm": float(j["shoulder"][0]), "forearm": float(j["elbow"][0]), "hand": float(j["wrist"][0]),
        "shank": h["knee"],
    }  # fmt: skip
    x = h["knee"] + (1.0 - row.cm) * length if kind == "thigh" else from_end[kind] - row.cm * length
    across = section_centroid(mesh, 0, x)
    return np.array([x, across[0], across[1]]), length


def _span(s: Skeleton, kind: str) -> float:
    """Length [m] of a segment between the survey's landmarks or our joints."""
    h, j = s.heights, s.joints
    ends = {
        "head": h["vertex"] - h["c7"],
        "upper trunk": h["notch"] - h["xiphoid"],
        "middle trunk": h["xiphoid"] - h["navel"],
        "lower trunk": h["navel"],
        "upper arm": float(j["shoulder"][0] - j["elbow"][0]),
        "forearm": float(j["elbow"][0] - j["wrist"][0]),
        "hand": s.measures["handlength"],
        "thigh": -h["knee"],
        "shank": h["knee"] - h["ankle"],
        "foot": s.measures["footlength"],
    }
    return float(ends[kind])


@cache
def _mean_subject(sex: Sex) -> Skeleton:
    """The skeleton of de Leva's mean man or woman by the survey's proportions."""
    stature = REFERENCE_STATURE[sex]
    return skeleton_of(sex, stature, estimated_measures(sex, stature, REFERENCE_MASS[sex]).values())


def _inertia(sex: Sex, kind: str, mass: float, length: float) -> Floats:
    """Inertia (3, 3) [kg m^2] about the CM in body axes of the standing body."""
    row = de_leva_table()[ROWS[kind], sex]
    sagittal, transverse, long = (
        mass * (r * length) ** 2 for r in (row.r_sagittal, row.r_transverse, row.r_longitudinal)
    )
    if kind == "foot":  # its long axis runs heel to toe (z), its sagittal one up
        return np.diag([sagittal, transverse, long])
    if kind == "hand":  # palm to the thigh: the axis through the palm is left to right
        return np.diag([long, sagittal, transverse])
    return np.diag([long, transverse, sagittal])
