"""The person and the pose of a scenario."""

from __future__ import annotations

from dataclasses import replace

from meshes.body.pose import Limbs, Pose
from scenarios.diver import Diver
from scenarios.measure_names import measures
from scenarios.pose import Pose as PoseTable
from sim.person.lungs import LITRE, TIDAL_VOLUME, ecsc_1993, frc_by_build, gli_2021
from sim.person.person import Person, person_of
from sim.person.pose import POSES
from sim.said import word

USUAL_AGE = 30.0  # yr, the survey's mean, for lung volumes where no age is given; 10 years are 0.1 l of FRC


def person_from(table: Diver) -> tuple[Person, tuple[str, ...]]:
    """The person of a scenario, and the names of what was estimated. Raises ValueError for a body that cannot be."""
    try:
        return _person_from(table)
    except ValueError as error:
        raise ValueError(plainly(str(error))) from error


def plainly(text: str) -> str:
    """The text with the survey's names of measures put into those that a file uses."""
    plain = text
    for measure in measures():
        plain = plain.replace(f"'{measure.measure}'", f"'{measure.name}'")
    return text if plain == text else plain  # as it is, where it can be told in another language


def _person_from(table: Diver) -> tuple[Person, tuple[str, ...]]:
    gas = table.lung_gas if table.lung_gas is not None else chest_gas(table)
    person = person_of(
        table.sex,
        table.height,
        table.mass,
        age=table.age,
        trained=table.trained,
        body_fat=table.body_fat,
        body_density=table.body_density,
        measures=table.measures,
        lung_gas=gas,
    )
    estimated = person.estimated if table.lung_gas is not None else (*person.estimated, word("lung gas"))
    return person, estimated


def chest_gas(table: Diver) -> float:
    """Gas in the chest [m^3] at the breathing level asked for, by the published equations asked for and the build."""
    age = USUAL_AGE if table.age is None else min(max(table.age, 20.0), 70.0)

    def volume(name: str) -> float:
        if table.lung_method == "gli 2021":
            return gli_2021(name, table.sex, table.height, age)  # type: ignore[arg-type]
        return ecsc_1993(name, table.sex, table.height, age)[0]  # type: ignore[arg-type]

    frc = frc_by_build(table.sex, table.mass / table.height**2) * volume("FRC")

    tidal = TIDAL_VOLUME if table.tidal_volume is None else table.tidal_volume
    levels = {
        "relaxed": lambda: frc,
        "mid-breath": lambda: frc + 0.5 * tidal,
        "breathed in": lambda: frc + tidal,
        "full": lambda: volume("TLC"),
        "empty": lambda: volume("RV"),
    }
    return max(levels[table.breathing_level](), 0.5 * LITRE)


def pose_from(table: PoseTable) -> Pose:
    """The pose of a scenario: a named one with single joints set apart from it."""
    pose = POSES[table.name]
    for joint, angle in table.joints.items():
        pose = _turned(pose, joint, angle)
    return pose


def _turned(pose: Pose, joint: str, angle: float) -> Pose:
    side, _, rest = joint.partition(" ")
    if side in ("left", "right"):
        limbs: Limbs = getattr(pose, side)
        turned = replace(limbs, **{rest.replace(" ", "_"): angle})
        return replace(pose, left=turned) if side == "left" else replace(pose, right=turned)
    name = joint.replace(" ", "_")
    if name == "neck_extension":
        return replace(pose, neck_extension=angle)
    return replace(pose, left=replace(pose.left, **{name: angle}), right=replace(pose.right, **{name: angle}))
