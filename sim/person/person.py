"""A person: what was measured, what was estimated, and the standing body that follows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians
from types import MappingProxyType
from typing import Final, cast

import numpy as np

from meshes.body.kinematics import segment_motions
from meshes.body.measures import Measures
from meshes.body.pose import Limbs, Pose
from meshes.body.shape import BodyShape, body_shape
from meshes.body.skeleton import Skeleton, skeleton_of
from meshes.body.skin import both_halves, half_points, half_volume, segment_mesh
from meshes.body.smoothing import smoothed
from meshes.body.topology import SEGMENTS, skin_topology
from meshes.mesh import Floats, Mesh, reshaped
from sim.person.density import DensityEstimate, tissue_density
from sim.person.lung_gas import lung_centroid
from sim.person.lungs import TIDAL_VOLUME, dry_frc
from sim.person.measures import (
    CIVILIAN,
    IMPOSSIBLE,
    MeasuresEstimate,
    Sex,
    contradiction,
    estimated_measures,
    impossibility,
)
from sim.person.tissue import CB_CM_UNCERTAINTY, Tissue, tissue_segments
from sim.rig import STANDARD_GRAVITY
from sim.said import note, word

FINENESS: Final = 2  # of the skin; halving the step moves its volume by under 0.5 % before it is scaled
ARMS_CLEAR: Final = Limbs(shoulder_abduction=radians(9.0))  # standing, arms just clear of the hips
STANDING: Final = Pose(ARMS_CLEAR, ARMS_CLEAR)
SMOOTHING: Final = 1.0004  # what smoothing the seams makes of the volume, about: where the search starts
GROWTH: Final = 1.9  # power of the swelling by which the volume goes, about: lengths of feet and limbs do not swell
BEND: Final = 0.9  # of the square of the swelling in the volume, about
STRAIGHT: Final = 1e-8  # of the swelling, across which a point leaves its straight way by less than 1e-9 m
SWELLING_STEPS: Final = 8
HEIGHT_RANGE: Final = (1.40, 2.10)  # m, survey 1.41 to 1.99 and a little beyond
BMI_RANGE: Final = (14.0, 60.0)  # kg/m^2
BMI_SURE: Final = (18.0, 40.0)  # kg/m^2, inside which the measures model is fitted
AGE_RANGE: Final = (14.0, 95.0)  # yr
AGE_MODEL: Final = (17.0, 60.0)  # yr, inside which the measures model is used
LUNG_RANGE: Final = (0.5e-3, 10.0e-3)  # m^3


@dataclass(frozen=True, eq=False)
class Person:
    """One diver's body, standing.

    height [m], mass [kg], age [yr];  measures : all by survey name [m]
    measure_sd : their SD as a civilian's, 0 where measured
    body_density : of the tissue, without lungs [kg/m^3], with ``density_sd``
    lung_gas, frc : gas in the lungs, and their dry functional residual capacity [m^3]
    volume_factor : what the modelled volume was multiplied by, all in cross-section, to agree with the density
    segments : the tissue by segment;  meshes : their outsides;  shape, skeleton : of the standing body
    standing : points (n, 3) of its skin [m], arms just clear of the hips
    estimated : names of the inputs that were estimated;  notes : doubts in plain words
    """

    sex: Sex
    height: float
    mass: float
    age: float
    measures: Measures
    measure_sd: Mapping[str, float]
    body_density: float
    density_sd: float
    density_basis: str
    lung_gas: float
    frc: float
    volume_factor: float
    shape: BodyShape
    standing: Floats
    meshes: Mapping[str, Mesh]
    segments: Mapping[str, Tissue]
    estimated: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def skeleton(self) -> Skeleton:
        return self.shape.skeleton

    @property
    def volume(self) -> float:
        """Whole body with the gas in the lungs [m^3]."""
        return self.mass / self.body_density + self.lung_gas

    @property
    def moment_sd(self) -> float:
        """SD of the bare body's own trimming moment when flat [N m], from how well CB - CM of people is known."""
        return self.mass * STANDARD_GRAVITY * CB_CM_UNCERTAINTY


def person_of(
    sex: Sex,
    height: float,
    mass: float,
    *,
    age: float | None = None,
    trained: bool = False,
    body_fat: float | None = None,
    body_density: float | None = None,
    measures: Mapping[str, float] | None = None,
    lung_gas: float | None = None,
) -> Person:
    """A person from sex, height [m], mass [kg] and whatever else is known.

    age [yr];  trained : for a sport, on most days of the week
    body_fat : mass fraction (0 to 1);  body_density : of the tissue, lungs taken out [kg/m^3]
    measures : taken on the body [m], by the survey's names (``measures_model().names``)
    lung_gas : mean gas in the lungs while hanging still [m^3]; default dry FRC by stature, age and build, and half a
        tidal volume
    Raises ValueError, saying what is allowed, for input that fits no person.
    """
    notes = _checked(sex, height, mass, age, lung_gas)
    given = {k: float(v) for k, v in (measures or {}).items()}
    if "age" in given:
        raise ValueError("age is no measure of length: give it as age")
    estimate = _measures(sex, height, mass, age, given, notes)
    known = estimate.values() | given
    years = age if age is not None else known["age"]
    density = tissue_density(
        sex, height, mass, years,
        waist=given.get("waistcircumference"), trained=trained, body_fat=body_fat, body_density=body_density,
    )  # fmt: skip
    frc = dry_frc(sex, height, mass, years)
    gas = frc + 0.5 * TIDAL_VOLUME if lung_gas is None else lung_gas
    try:
        shape, points, factor = scaled_shape(skeleton_of(sex, height, known), mass / density.density + gas)
        meshes = standing_meshes(shape, points)
        lungs = (frc, float(lung_centroid(shape.trunk)[2]))
        segments = tissue_segments(sex, shape.skeleton, meshes, mass, density.density, lungs)
    except ValueError as error:
        raise ValueError(impossibility(estimate, given, built=False) or str(error)) from error
    if not 0.9 < factor < 1.1:
        notes.append(
            note(
                "the modelled volume was scaled by {factor:.3f} to agree with the mass: check the measures",
                factor=float(factor),
            )
        )
    return Person(
        sex, height, mass, years,
        measures=MappingProxyType(cast(Measures, known)), measure_sd=MappingProxyType(_spread(estimate, given)),
        body_density=density.density, density_sd=density.sd, density_basis=density.basis,
        lung_gas=gas, frc=frc, volume_factor=factor, shape=shape, standing=points,
        meshes=MappingProxyType(meshes), segments=MappingProxyType(segments),
        estimated=_estimated(age, density, given, lung_gas), notes=(*notes, *density.notes),
    )  # fmt: skip


def _spread(estimate: MeasuresEstimate, given: Mapping[str, float]) -> dict[str, float]:
    """SD of every measure, 0 where it was taken."""
    sd = np.sqrt(np.diag(estimate.covariance)).tolist()
    return {n: 0.0 if n in given else s for n, s in zip(estimate.names, sd, strict=True)}


def standing_meshes(shape: BodyShape, points: Floats) -> dict[str, Mesh]:
    """Closed mesh of each segment from the skin in the pose STANDING, arms brought to hang straight down."""
    topology = skin_topology(FINENESS)
    placed = segment_motions(shape.skeleton, STANDING)
    meshes = {}
    for name in SEGMENTS:
        mesh, p = segment_mesh(points, topology, name), placed[name]
        meshes[name] = reshaped(mesh.faces, p.pivot + (mesh.vertices - p.at) @ p.rotation)
    return meshes


def scaled_shape(skeleton: Skeleton, volume: float) -> tuple[BodyShape, Floats, float]:
    """The shape swollen to enclose ``volume`` [m^3], its standing points, and the factor on its volume.

    Unsmoothed, the volume is a parabola in the swelling but for the shoulders, and what smoothing adds hardly depends
    on it: the first step, by the parabola's slope, ends within about 1e-8, and secant steps do the rest. Points go on
    nearly straight lines as the body swells, so that the last step, across less than 1e-8, is taken along them.
    Raises ValueError for a skeleton that encloses nothing.
    """
    raw = half_volume(half_points(body_shape(skeleton), FINENESS, STANDING), FINENESS)
    if not raw > 0.0:
        raise ValueError(f"the measures make a body inside out ({raw:.3g} m^3)")
    swell = float((volume / (SMOOTHING * raw)) ** (1.0 / GROWTH))
    rough, reached, half = _enclosed(skeleton, swell)
    chord = (rough - raw) / (swell - 1.0) if abs(swell - 1.0) > 1e-4 else GROWTH * raw
    slope = (chord + BEND * raw * (swell - 1.0)) * reached / rough
    step = (volume - reached) / slope
    for _ in range(SWELLING_STEPS):
        swell += step
        last, before = half, reached
        rough, reached, half = _enclosed(skeleton, swell)
        share = (volume - reached) / (reached - before) if reached != before else 0.0
        step *= share
        if abs(step) < STRAIGHT:
            break
    points = both_halves(half + share * (half - last), FINENESS)
    return body_shape(skeleton, swell + step), points, volume / (raw + reached - rough)


def _enclosed(skeleton: Skeleton, swell: float) -> tuple[float, float, Floats]:
    """Volume [m^3] of the standing body before and after smoothing, and the smoothed points of its left half."""
    built = half_points(body_shape(skeleton, swell), FINENESS, STANDING)
    half = smoothed(built, FINENESS, half=True)
    return half_volume(built, FINENESS), half_volume(half, FINENESS), half


def _checked(sex: str, height: float, mass: float, age: float | None, lung_gas: float | None) -> list[str]:
    """Notes about doubtful input; raises ValueError for impossible input."""
    if sex not in ("male", "female"):
        raise ValueError(f"sex must be 'male' or 'female' (whose survey to use), got {sex!r}")
    if not HEIGHT_RANGE[0] <= height <= HEIGHT_RANGE[1]:
        raise ValueError(f"height must be {HEIGHT_RANGE[0]} to {HEIGHT_RANGE[1]} m, got {height} m")
    bmi = mass / height**2
    if not BMI_RANGE[0] <= bmi <= BMI_RANGE[1]:
        low, high = (b * height**2 for b in BMI_RANGE)
        raise ValueError(f"at {height} m the mass must be {low:.0f} to {high:.0f} kg (BMI 14 to 60), got {mass} kg")
    if age is not None and not AGE_RANGE[0] <= age <= AGE_RANGE[1]:
        raise ValueError(f"age must be {AGE_RANGE[0]:.0f} to {AGE_RANGE[1]:.0f} years, got {age}")
    if lung_gas is not None and not LUNG_RANGE[0] <= lung_gas <= LUNG_RANGE[1]:
        raise ValueError(f"lung gas must be 0.5 to 10 litres, got {1e3 * lung_gas:g} litres")
    notes: list[str] = []
    if not BMI_SURE[0] <= bmi <= BMI_SURE[1]:
        notes.append(
            note(
                "BMI {bmi:.1f} is outside 18 to 40, where the survey behind the estimates has few people: measures "
                "taken on the body help",
                bmi=float(bmi),
            )
        )
    if sex == "female" and height > 1.85:
        notes.append(note("a woman taller than 1.85 m is beyond the survey behind the estimates"))
    if age is not None and not AGE_MODEL[0] <= age <= AGE_MODEL[1]:
        years = min(max(age, AGE_MODEL[0]), AGE_MODEL[1])
        notes.append(note("measures are estimated as for {years:.0f} years of age", years=float(years)))
    return notes


def _measures(
    sex: Sex, height: float, mass: float, age: float | None, given: Mapping[str, float], notes: list[str]
) -> MeasuresEstimate:
    known: dict[str, float] = dict(given)
    if age is not None:
        known["age"] = min(max(age, AGE_MODEL[0]), AGE_MODEL[1])
    estimate = estimated_measures(sex, height, mass, known, widened=CIVILIAN)  # type: ignore[arg-type]
    for name, z in estimate.innovations.items():
        if not abs(z) < IMPOSSIBLE:
            expected = estimated_measures(sex, height, mass).values()[name]
            raise ValueError(
                f"'{name}' = {known[name]:g} m fits no person of {height} m and {mass} kg: about {expected:.3f} m is "
                "expected; check the unit"
            )
    fault = impossibility(estimate, given)
    if fault is not None:
        raise ValueError(fault)
    doubt = contradiction(estimate)
    if doubt is not None:
        notes.append(doubt)
    return estimate


def _estimated(
    age: float | None, density: DensityEstimate, given: Mapping[str, float], lung_gas: float | None
) -> tuple[str, ...]:
    names = [] if age is not None else [word("age")]
    if density.estimated:
        names.append(word("body density"))
    if lung_gas is None:
        names.append(word("lung gas"))
    names.append(word("measures") if not given else word("measures other than those given"))
    return tuple(names)
