"""Water set moving, drag, and the statics of a submerged pendulum."""

from __future__ import annotations

from typing import Final

import numpy as np
from scipy.special import ellipe

from meshes.primitives import box
from meshes.solid import Solid, moved, point_mass, solid_of
from sim.answers.evidence.check import Check, Compared, near, table
from sim.rig import Part, Rig, Water, rig_of
from sim.settling.added_mass import added_mass, ellipsoid_coefficients
from sim.settling.drag import drag, drag_areas, strips_of
from sim.settling.extent import extents
from sim.settling.motion import model_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.statics.held import held_pitches

HALF_DIGIT: Final = 0.5e-3  # of tables with three decimals
# A submerged system of 130 kg and 40 kg m^2 with the water it moves; CB above CM [m]: stiffness [N m/rad], tilt
# [degrees] by 1 kg in water moved 0.5 m, period [s]
PENDULUM: Final = {0.010: (12.8, 21.0, 11.1), 0.020: (25.5, 11.0, 7.9), 0.040: (51.0, 5.5, 5.6)}
MASS: Final = 130.0
INERTIA: Final = 40.0
WATER: Final = Water(1025.0, 9.81, 2e5)


def checks() -> tuple[Check, ...]:
    lamb = "Lamb 1932, art. 114 and 115, by closed form and by quadrature"
    hoerner = "Hoerner 1965 as printed in a handbook, p. 95"
    estimate = "righting of 130 kg by hand formula"
    return (
        Check("Moving water", "added mass of 9 spheroids", lamb, "computed elsewhere", "", 3, _spheroids),
        Check("Moving water", "added mass of 2 triaxial ellipsoids", lamb, "computed elsewhere", "", 3, _ellipsoids),
        Check(
            "Moving water", "thin discs broadside and about a diameter", "Lamb 1932, art. 108 and 114, closed forms",
            "published", "", 3, _discs,
        ),
        Check(
            "Moving water", "added mass of rectangular plates, 1 to 10 long",
            "DNV-RP-N103, table A-2 (quoted by others)", "published", "", 3, _plates,
            doubt="each plate is taken as an elliptic disc of its area and aspect",
        ),
        Check(
            "Moving water", "drag of rectangular plates, 1 to 5 long", "DNV-RP-N103, table B-2 (quoted by others)",
            "published", "", 2, _plates_across,
        ),
        Check(
            "Moving water", "drag of a cylinder across the flow", hoerner, "published", "", 2, _across,
            doubt="the table in use, so this guards its use",
        ),
        Check("Moving water", "drag of a cylinder endways, one value for all", hoerner, "published", "", 2, _endways),
        Check(
            "Moving water", "drag of plates turned at 1 rad/s, axis 0.8 m off", "strip integral, closed form",
            "computed elsewhere", "N m", 1, _plates_turned,
        ),
        Check(
            "Statics", "stiffness, CB 10, 20, 40 mm above CM", estimate, "computed elsewhere", "N m/rad", 1,
            _stiffness,
        ),
        Check("Statics", "tilt by 1 kg moved half a metre", estimate, "computed elsewhere", "degrees", 1, _tilt),
        Check("Statics", "period of swing, 40 kg m²", estimate, "computed elsewhere", "s", 1, _period),
    )  # fmt: skip


def _spheroids() -> list[Compared]:
    found = []
    for row in table("lamb_spheroids"):
        ratio = float(row["length_ratio[a/b]"])
        along, about = ellipsoid_coefficients(np.array([ratio, 1.0, 1.0]))
        pairs = ((along[0], "axial[-]"), (along[1], "lateral[-]"), (about[1], "rotational[-]"))
        found += [near(x, float(row[k]), HALF_DIGIT, f"a/b {ratio:g}, {k[:-3]}") for x, k in pairs]
    return found


def _ellipsoids() -> list[Compared]:
    found = []
    for row in table("triaxial_added_mass"):
        along, about = ellipsoid_coefficients(np.array([float(row[f"{k}[m]"]) for k in "abc"]))
        for i, k in enumerate("abc"):
            found.append(near(along[i], float(row[f"k_{k}[-]"]), HALF_DIGIT, f"b {row['b[m]']} m, along {k}"))
            found.append(near(about[i], float(row[f"rot_{k}[-]"]), HALF_DIGIT, f"b {row['b[m]']} m, about {k}"))
    return found


def _discs() -> list[Compared]:
    """Semi-axes of 1 m and up: on rho a^3 and rho a^5 of a disc, on rho a b^2 of an elliptic one."""
    thin = 1e-5
    along, about = ellipsoid_coefficients(np.array([1.0, 1.0, thin]))
    found = [
        near(along[2] * 4.0 / 3.0 * np.pi * thin, 8.0 / 3.0, 1e-3, "disc broadside, 8/3"),
        near(about[0] * 4.0 / 15.0 * np.pi * thin, 16.0 / 45.0, 1e-3, "disc about a diameter, 16/45"),
    ]
    for a in (1.5, 3.0, 10.0):
        along, _ = ellipsoid_coefficients(np.array([a, 1.0, thin]))
        theirs = 4.0 / 3.0 * np.pi / ellipe(1.0 - a**-2)
        found.append(near(along[2] * 4.0 / 3.0 * np.pi * thin, theirs, 1e-3, f"elliptic disc {a:g} to 1"))
    return found


def _plates() -> list[Compared]:
    found = []
    for row in table("rectangular_plates"):
        ratio, theirs = float(row["length_over_breadth[-]"]), float(row["added_mass[-]"])
        plate = Part("plate", "other", solid_of(box([ratio, 1.0, 1e-3]), WATER.density))
        shapes = extents(rig_of([plate], WATER))
        carried = added_mass(shapes, np.zeros(3), WATER.density).translation[2, 2]
        # 6 %: rectangle and disc; no closed form is known for the rectangle
        ours = carried / (WATER.density * np.pi / 4.0 * ratio)
        found.append(near(ours, theirs, 0.06 * theirs, f"{ratio:g} to 1"))
    return found


def _plates_across() -> list[Compared]:
    found = []
    for row in table("plate_drag"):
        ratio, theirs = float(row["length_over_breadth[-]"]), float(row["drag_coefficient[-]"])
        found.append(near(drag_areas(ratio, 1.0, 0.01)[2] / ratio, theirs, 0.05, f"{ratio:g} to 1"))
    return found


def _plates_turned() -> list[Compared]:
    """rho/2 C b (x_2^4 - x_1^4) / 4, the layer on the skin left out of it."""
    found = []
    for length, breadth in ((0.6, 0.2), (0.3, 0.3), (0.2, 0.6)):
        plate = moved(solid_of(box([length, breadth, 1e-3]), WATER.density), shift=[-0.8, 0.0, 0.0])
        strips = strips_of(extents(rig_of([Part("plate", "other", plate)], WATER)), np.zeros(3), WATER.density)
        torque, _ = drag(strips, np.array([0.0, 1.0, 0.0]), None)
        inner, outer = 0.8 - 0.5 * length, 0.8 + 0.5 * length
        theirs = 0.5 * WATER.density * 1.17 * breadth * (outer**4 - inner**4) / 4.0
        found.append(near(-torque[1], theirs, 0.015 * theirs, f"{length:g} m along, {breadth:g} m across"))
    return found


def _cylinders(flow: str) -> list[tuple[float, float]]:
    """Length over diameter and drag coefficient, as printed."""
    columns = ("length_over_diameter[-]", "drag_coefficient[-]")
    return [(float(r[columns[0]]), float(r[columns[1]])) for r in table("hoerner_cylinders") if r["flow"] == flow]


def _across() -> list[Compared]:
    return [near(drag_areas(n, 1.0, 1.0)[2] / n, cd, 0.005, f"l/d {n:g}") for n, cd in _cylinders("across")]


def _endways() -> list[Compared]:
    ours = drag_areas(4.0, 1.0, 1.0)[0] / (0.25 * np.pi)
    return [near(ours, cd, 0.15 * cd, f"l/d {n:g}") for n, cd in _cylinders("endways")]


def _pendulum(above: float, moved: bool = False) -> Rig:
    """Neutral, CB ``above`` its CM [m]; ``moved``: 1 kg of apparent weight carried half a metre footward."""
    inertia = np.diag([5.0, INERTIA, INERTIA])
    whole = Solid(MASS, np.zeros(3), inertia, MASS / WATER.density, np.array([0.0, 0.0, above]))
    parts = [Part("whole", "body", whole)]
    if moved:
        parts.append(Part("gone", "other", point_mass(0.0, [0.0, 0.0, 0.0], 1.0 / WATER.density)))
        parts.append(Part("there", "lead", point_mass(1.0, [-0.5, 0.0, 0.0])))
    return rig_of(parts, WATER, held=np.zeros(3))


def _stiffness() -> list[Compared]:
    found = []
    for above, (theirs, _, _) in PENDULUM.items():
        ours = flat_answer(soft_rig(_pendulum(above))).pitch_stiffness
        found.append(near(ours, theirs, 0.05, f"{1e3 * above:.0f} mm"))
    return found


def _tilt() -> list[Compared]:
    found = []
    for above, (_, theirs, _) in PENDULUM.items():
        rest = [h.pitch for h in held_pitches(soft_rig(_pendulum(above, moved=True))) if h.stable]
        found.append(near(float(np.degrees(rest[0])), theirs, 0.5 if theirs > 10 else 0.05, f"{1e3 * above:.0f} mm"))
    return found


def _period() -> list[Compared]:
    """2 pi sqrt(J / k) of the equations of motion as they are set up."""
    found = []
    for above, (_, _, theirs) in PENDULUM.items():
        rig = _pendulum(above)
        model = model_of(rig, roll_held=True, heaves=False, wing_volume=None, added_water=False, with_drag=False)
        stiffness = flat_answer(soft_rig(rig)).pitch_stiffness
        ours = 2.0 * np.pi * np.sqrt(model.rotation[1, 1] / stiffness)
        found.append(near(ours, theirs, 0.05, f"{1e3 * above:.0f} mm"))
    return found
