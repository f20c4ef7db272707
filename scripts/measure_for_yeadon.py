"""Measure two of our bodies as Yeadon's model asks, let it work them out, and store what it finds for the evidence:
.venv/bin/python scripts/measure_for_yeadon.py

Yeadon 1990, J Biomech 23:49 and 67: a body of 40 stadium solids by 95 lengths, perimeters and breadths (here the
package yeadon 2.0.1). Both sides are alike, nothing is scaled to a mass. Its feet point down in line with the shank.
"""

import csv
import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
TABLES = (
    ROOT / "sim/answers/evidence/data/yeadon_two_people.csv",
    ROOT / "tests/published/tables/yeadon_two_people.csv",
)
HEAD = ("sex", "stature[m]", "mass[kg]", "volume[l]", "mass_clauser[kg]", "cm_above_hips[m]", "I_long[kg m2]",
        "I_transverse[kg m2]", "I_sagittal[kg m2]")  # fmt: skip
INSIDE = 0.004  # m, a cut at the very end of a mesh is made so far inside it


def outline(mesh, axis, at):
    """Length [m] of the largest outline where a mesh is cut at right angles to an axis, and its extent (3,) [m]."""
    import trimesh

    low, high = mesh.vertices[:, axis].min() + INSIDE, mesh.vertices[:, axis].max() - INSIDE
    normal, origin = np.zeros(3), np.zeros(3)
    normal[axis], origin[axis] = 1.0, min(max(at, low), high)
    loops = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).section(normal, origin).discrete
    largest = max(loops, key=lambda loop: np.ptp(loop, axis=0).max())
    return float(np.linalg.norm(np.diff(largest, axis=0), axis=1).sum()), np.ptp(largest, axis=0)


def trunk_outline(person, at):
    """Girth of a tape [m] round the trunk, neck or head at a height, arms left out, and its extent (3,) [m]."""
    import trimesh
    from scipy.spatial import ConvexHull

    from meshes.body.topology import skin_topology
    from sim.person.person import FINENESS

    skin = trimesh.Trimesh(person.standing, skin_topology(FINENESS).faces, process=False)
    loops = skin.section([1.0, 0.0, 0.0], [at, 0.0, 0.0]).discrete
    middle = [loop for loop in loops if loop[:, 1].min() < 0.0 < loop[:, 1].max()]
    largest = max(middle, key=lambda loop: np.ptp(loop, axis=0).max())
    return float(ConvexHull(largest[:, 1:]).area), np.ptp(largest, axis=0)


def measures(person):
    """The 95 measures [m] by Yeadon's names: length L, perimeter p, width w, depth d of levels of s, a, b, j, k."""
    found = _trunk(person) | _arm(person) | _leg(person)
    for name in list(found):
        other = {"La": "Lb", "Lj": "Lk"}.get(name[:2])
        if other:
            found[other + name[2:]] = found[name]
    return {name: float(value) for name, value in found.items()}


def _trunk(person):
    h, shoulder = person.skeleton.heights, float(person.skeleton.joints["shoulder"][0])
    found = {"Ls4L": shoulder, "Ls5L": h["acromion"], "Ls8L": h["vertex"] - h["acromion"]}
    for level, height in ((0, 0.0), (1, h["navel"]), (2, h["tenth rib"]), (3, h["chest"])):
        found[f"Ls{level}p"], extent = trunk_outline(person, height)
        found[f"Ls{level}w"] = extent[1]
        if level:
            found[f"Ls{level}L"] = height
    # at the shoulders the depth of the trunk, and the distance of the joints that its arms hang from
    found["Ls4d"] = outline(person.meshes["upper trunk"], 0, shoulder)[1][2]
    found["Ls4w"] = 2.0 * person.skeleton.joints["shoulder"][1]
    found["Ls5p"] = person.measures["neckcircumferencebase"]
    for level, height in ((6, h["chin"] + 0.55 * (h["sellion"] - h["chin"])), (7, h["tragion"] + 0.02)):
        found[f"Ls{level}p"], _ = trunk_outline(person, height)
        found[f"Ls{level}L"] = height - h["acromion"]
    return found


def _widest(mesh, high, low):
    """Height between two others [m] at which a limb's outline is longest."""
    heights = np.linspace(low, high, 25)
    return float(max(heights, key=lambda x: outline(mesh, 0, x)[0]))


def _arm(person):
    joints, meshes = person.skeleton.joints, person.meshes
    shoulder, elbow, wrist, tip = (float(joints[k][0]) for k in ("shoulder", "elbow", "wrist", "fingertip"))
    upper, fore, hand = (meshes[f"left {k}"] for k in ("upper arm", "forearm", "hand"))
    thick = _widest(fore, elbow - 0.02, wrist + 0.02)
    levels = [
        (upper, shoulder), (upper, 0.5 * (shoulder + elbow)), (upper, elbow), (fore, thick), (fore, wrist),
        *((hand, wrist - share * (wrist - tip)) for share in (0.25, 0.5, 0.95)),
    ]  # fmt: skip
    found = {"La2L": shoulder - elbow, "La3L": shoulder - thick, "La4L": shoulder - wrist}
    for level, (mesh, height) in enumerate(levels):
        found[f"La{level}p"], extent = outline(mesh, 0, height)
        if level >= 4:
            found[f"La{level}w"] = max(extent[1:])
        if level >= 5:
            found[f"La{level}L"] = wrist - height
    return found


def _leg(person):
    h, meshes = person.skeleton.heights, person.meshes
    thigh, shank, foot = (meshes[f"left {k}"] for k in ("thigh", "shank", "foot"))
    calf = _widest(shank, h["knee"] - 0.03, h["ankle"] + 0.05)
    found = {"Lj1L": -h["crotch"], "Lj3L": -h["knee"], "Lj4L": -calf, "Lj5L": -h["ankle"]}
    levels = ((thigh, h["crotch"]), (thigh, 0.5 * (h["crotch"] + h["knee"])), (thigh, h["knee"]), (shank, calf),
              (shank, h["ankle"]))  # fmt: skip
    for level, (mesh, height) in enumerate(levels, 1):
        found[f"Lj{level}p"], _ = outline(mesh, 0, height)
    # the foot along its sole, as if it pointed down: heel a third of the way to the floor, then ball and toe nails
    ankle, back = float(person.skeleton.joints["ankle"][2]), float(foot.vertices[:, 2].max())
    length = float(np.ptp(foot.vertices[:, 2]))
    heel = h["ankle"] - 0.35 * (h["ankle"] - h["floor"])
    found["Lj6p"], extent = outline(foot, 0, heel)
    found["Lj6L"], found["Lj6d"] = h["ankle"] - heel, extent[2]
    for level, share in ((8, 0.72), (9, 0.97)):
        across = back - share * length
        found[f"Lj{level}p"], extent = outline(foot, 2, across)
        found[f"Lj{level}L"], found[f"Lj{level}w"] = ankle - across, extent[1]
    found["Lj7p"], _ = outline(foot, 2, ankle - 0.5 * (found["Lj6L"] + found["Lj8L"]))
    return found


def rows():
    """The table: two people worked out by Yeadon's model with Clauser's densities."""
    import yeadon

    from sim.answers.evidence.solids import PEOPLE, person_and_body

    table = [list(HEAD)]
    for sex, stature, mass in PEOPLE:
        human = yeadon.Human(measures(person_and_body(sex)[0]), symmetric=True, density_set="Clauser")
        volume = sum(float(solid.mass) / solid.density for segment in human.segments for solid in segment.solids)
        # x to the side, y forward, z up there
        sagittal, transverse, long = (float(human.inertia[i, i]) for i in (1, 0, 2))
        numbers = (
            1e3 * volume,
            float(human.mass),
            float(np.ravel(human.center_of_mass)[2]),
            long,
            transverse,
            sagittal,
        )
        table.append([sex, f"{stature:g}", f"{mass:g}", *(f"{x:.4f}" for x in numbers)])
    return table


def main():
    table = rows()
    for file in TABLES:
        with file.open("w", newline="", encoding="utf-8") as out:
            csv.writer(out, lineterminator="\n").writerows(table)
    print(f"written: {', '.join(str(f.relative_to(ROOT)) for f in TABLES)}")


if __name__ == "__main__":
    sys.exit(main())
