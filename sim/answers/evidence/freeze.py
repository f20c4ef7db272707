"""How long a diver who stops moving takes to turn by 30 degrees: item by item by hand, beside the program.

By hand the diver is rods and plates of rounded sizes in the plane of the pitch, with published factors for the water
they move and their drag; a rod or plate whose middle lies at (x, z) from the CM and which leans by t moves crosswise
at omega (x cos t + z sin t). The moment is that when flat, and stays.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Final

import numpy as np

from scenarios.models import Scenario
from sim.answers.evidence.check import Check, Compared, near, table
from sim.answers.evidence.pendulums import PLATE_DRAG, TURN, plate_water, time_to_turn
from sim.assembly.scenario_rig import assembled_scenario
from sim.rig import Part, Rig, rig_of
from sim.settling.added_mass import added_mass
from sim.settling.drag import drag, strips_of
from sim.settling.extent import FREE_STANDING, extents
from sim.settling.motion import model_of, rigid_inertia
from sim.settling.settle import settle
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

THEME: Final = "Motion"
SEA: Final = 1027.0  # kg/m^3
# water moved over water displaced of cylinders across the flow, by length over diameter (DNV-RP-N103, from memory)
SLENDERNESS: Final = (1.2, 2.5, 5.0, 9.0)
ROD_WATER: Final = (0.62, 0.78, 0.90, 0.96)
ROD_DRAG: Final = 0.7  # Hoerner 1965, length over diameter 2 to 5
FIN: Final = (0.65, 0.20)  # m, length and mean breadth of a whole fin, for the factor of its plate
# a person made up for this, with what a twin set asks for
WOMAN: Final[dict[str, Any]] = {
    "format": "scenario/1",
    "diver": {"sex": "female", "height": "166 cm", "mass": "58 kg", "age": "34 years",
              "measures": {"waist_girth": "72 cm"}},
    "water": {"kind": "sea", "temperature": "10 °C", "depth": "10 m"},
    "suit": {"catalogue": "trilaminate", "undergarment": "medium", "gaiters": True},
    "plate": {"catalogue": "standard steel"},
    "harness": {"catalogue": "one-piece webbing"},
    "cylinders": {"catalogue": "twin steel 8.5 l 232 bar", "gas": "air", "pressure": "200 bar", "shift": "-2.5 cm"},
    "wing": {"catalogue": "twin"},
    "fins": {"catalogue": "rubber"},
    "pose": {"name": "flat, knees bent"},
    "gear": [{"catalogue": "mask"}, {"catalogue": "canister light"}, {"catalogue": "computer"}],
}  # fmt: skip


@dataclass(frozen=True)
class Share:
    """What one item, or several alike together, has in the turning about the CM in pitch.

    mass [kg];  inertia, water : of its own mass, and of the water it moves [kg m^2];  drag : at 1 rad/s [N m]
    """

    item: str
    mass: float
    inertia: float
    water: float
    drag: float


def checks() -> tuple[Check, ...]:
    hand = "by hand: rods and plates, DNV-RP-N103 (partly from memory), Hoerner 1965"
    return (
        Check(
            THEME, "woman in twin set: inertia in pitch, water with it", hand, "computed elsewhere", "kg m²", 1,
            _inertia,
        ),
        Check(THEME, "woman in twin set: drag at 1 rad/s in pitch", hand, "computed elsewhere", "N m", 0, _drag),
        Check(
            THEME, "woman in twin set: time to turn 30 degrees", hand, "computed elsewhere", "s", 2, _time,
            doubt="by hand the moment stays as when flat; in the program it grows with the gas that moves",
        ),
    )  # fmt: skip


@cache
def woman() -> Rig:
    """The woman with her gear as the program builds her."""
    return assembled_scenario(Scenario.model_validate(WOMAN), "woman").rig


def by_hand() -> tuple[Share, ...]:
    """The items by hand, as in the table; lengths to centimetres, tilts to 5 degrees."""
    return tuple(_by_hand(row) for row in table("freeze_by_hand"))


def by_program() -> tuple[Share, ...]:
    """The same items as the program has them; what the hand has in several rows stands in the last."""
    rig = woman()
    found = []
    for row in table("freeze_by_hand"):
        names = row["parts"].split("|")
        parts = [p for p in rig.parts if p.name in names]
        found.append(_by_program(row["item"], parts, rig))
    return tuple(found)


def _by_hand(row: dict[str, str]) -> Share:
    count, mass, x, z, length, breadth, tilt = (float(v) for v in list(row.values())[2:9])
    mine = mass * (x**2 + z**2 + length**2 / 12.0)
    if row["moves_water_as"] == "nothing":
        return Share(row["item"], count * mass, count * mine, 0.0, 0.0)
    lean = np.radians(tilt)
    lever = abs(x * np.cos(lean) + z * np.sin(lean))
    if row["moves_water_as"] == "plate":
        coefficient = PLATE_DRAG
        carried = plate_water(*FIN) * breadth**2 * length / (FIN[1] ** 2 * FIN[0])
    else:
        coefficient = ROD_DRAG
        factor = float(np.interp(length / breadth, SLENDERNESS, ROD_WATER))
        carried = factor * SEA * np.pi / 4.0 * breadth**2 * length
    ends = lever + 0.5 * length * np.array([-1.0, 1.0])
    cubes = float(np.diff(ends * np.abs(ends) ** 3)[0]) / 4.0
    return Share(
        row["item"], count * mass, count * mine, count * carried * (lever**2 + length**2 / 12.0),
        count * 0.5 * SEA * coefficient * breadth * cubes,
    )  # fmt: skip


def _by_program(item: str, parts: list[Part], rig: Rig) -> Share:
    if not parts:
        return Share(item, 0.0, 0.0, 0.0, 0.0)
    own = rig_of(parts, rig.water, held=rig.held)
    moving = [p for p in parts if p.kind in FREE_STANDING]
    shapes = extents(rig_of(moving, rig.water, held=rig.held)) if moving else ()
    torque, _ = drag(strips_of(shapes, rig.held, rig.water.density), np.array([0.0, 1.0, 0.0]), None)
    water = added_mass(shapes, rig.held, rig.water.density).rotation[1, 1]
    return Share(item, own.whole.mass, float(rigid_inertia(own)[1, 1]), float(water), -float(torque[1]))


def sums_by_hand() -> tuple[float, float]:
    """Inertia with water [kg m^2] and drag at 1 rad/s [N m]."""
    shares = by_hand()
    return sum(s.inertia + s.water for s in shares), sum(s.drag for s in shares)


def inertia_and_drag(rig: Rig) -> tuple[float, float]:
    """The same of the equations of motion as they are set up for a rig."""
    model = model_of(rig, roll_held=True, heaves=False, wing_volume=None)
    if model.strips is None:
        raise ValueError("the model of this check has lost its drag")
    torque, _ = drag(model.strips, np.array([0.0, 1.0, 0.0]), None)
    return float(model.rotation[1, 1]), -float(torque[1])


def _inertia() -> list[Compared]:
    theirs = sums_by_hand()[0]
    return [near(inertia_and_drag(woman())[0], theirs, 0.1 * theirs)]


def _drag() -> list[Compared]:
    theirs = sums_by_hand()[1]
    return [near(inertia_and_drag(woman())[1], theirs, 0.15 * theirs)]


def time_by_hand() -> float:
    """[s] to turn by 30 degrees, the moment as the program has it when flat."""
    moment = abs(flat_answer(soft_rig(woman())).pitch_moment)
    return time_to_turn(TURN, moment, *sums_by_hand())


def time_by_program() -> float:
    """[s] to turn by 30 degrees, let go flat."""
    path = settle(woman()).path
    turned = np.abs(path.pitch)
    i = int(np.flatnonzero(turned >= TURN)[0])
    return float(np.interp(TURN, turned[i - 1 : i + 1], path.time[i - 1 : i + 1]))


def _time() -> list[Compared]:
    theirs = time_by_hand()
    return [near(time_by_program(), theirs, 0.15 * theirs)]
