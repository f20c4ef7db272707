"""``settle --surface``: how the diver floats with the wing blown up, as one object for JSON and text."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from scenarios.errors import Problem, ScenarioError
from sim.assembly.afloat import DiverAfloat, diver_afloat
from sim.assembly.assembled import Assembled
from sim.assembly.from_file import assembled_from_file
from sim.floating.body import FloatingBody
from sim.floating.energy import gas_state, hull_under
from sim.floating.equilibrium import Floating, rests_afloat, sinks

NEAR_SURFACE: Final = 0.5  # m, the least depth a scenario knows; foam is 2 to 3 % thinner there than at the surface
LITRE: Final = 1e-3
# world-up in body axes, each a little off its plane of symmetry so that no start balances on an edge
STARTS: Final = {"face up": (0.05, 0.06, -1.0), "face down": (0.05, 0.06, 1.0), "upright": (1.0, 0.06, -0.1)}
SIDEWAYS: Final = 0.26  # sine of 15 degrees: within this of level the face looks neither up nor down
REFERENCE: Final[dict[str, float | str]] = {
    "mouth_above_water_mm": 120.0,
    "trunk_leaning_back_deg": 20.0,
    "source": "LSA Code 2.2, which is about lifejackets; drawn as reference only",
}
# measured by scripts/surface_error.py
DOUBT: Final = (
    "How sure: how far headward a body's CB lies is known to half a centimetre (one SD). That moves most rests of "
    "the demo divers by less than 3 degrees of the trunk and 13 mm at the mouth, but one that hardly prefers one "
    "attitude to another by 7 degrees and 7 cm."
)


@dataclass(frozen=True, eq=False)
class SurfaceAnswer:
    """The diver of a file at the surface: rests, lowest energy first, each with the starts that lead to it."""

    assembled: Assembled
    diver: DiverAfloat
    rests: tuple[tuple[Floating, tuple[str, ...]], ...]


def surface_answer(path: Path, settings: Sequence[str] = ()) -> SurfaceAnswer:
    """Rests at the surface of the diver of a scenario file.

    Raises ScenarioError for input that cannot be read, and for a parts file, which has no shapes.
    """
    assembled = assembled_from_file(path, settings)
    if assembled.looks is not None:
        assembled = assembled_from_file(path, [*settings, f"water.depth={NEAR_SURFACE} m"])
    if assembled.looks is None:
        message = "--surface needs the shapes of body and gear, which a parts file has not; give a scenario file"
        raise ScenarioError([Problem(str(path), message)])
    diver = diver_afloat(assembled, NEAR_SURFACE)
    found = rests_afloat(diver.body, [np.array(u) for u in STARTS.values()])
    names = tuple(STARTS)
    return SurfaceAnswer(assembled, diver, tuple((rest, tuple(names[i] for i in starts)) for rest, starts in found))


def told_surface(answer: SurfaceAnswer) -> dict[str, Any]:
    """The object ``surface``: angles in degrees, litres, ``up`` and lengths in body axes."""
    diver, found = answer.diver, answer.rests
    return {
        "outcome": "floats" if found else "sinks",
        "wing_gas_l": None if diver.wing_gas is None else diver.wing_gas / LITRE,
        "wing_full": diver.wing_full,
        "suit_gas_l": None if diver.suit_gas is None else diver.suit_gas / LITRE,
        "mass_kg": diver.body.mass,
        "heavy_by_kg": None if found else sinks(diver.body, np.array([0.0, 0.0, 1.0])),
        "rests": [_rest(diver, rest, starts) for rest, starts in found],
        "reference": dict(REFERENCE),
        "notes": [*([DOUBT] if found else []), *(n for n in answer.assembled.notes if "overfull" in n)],
    }


def _rest(diver: DiverAfloat, rest: Floating, starts: Sequence[str]) -> dict[str, Any]:
    up, body = rest.up, diver.body
    return {
        "reached_from": list(starts),
        "up": [float(x) for x in up],
        "pitch_deg": math.degrees(math.asin(min(1.0, max(-1.0, float(up[0]))))),
        "roll_deg": math.degrees(math.atan2(up[1], up[2])),
        "face": face(up),
        "trunk_from_vertical_deg": math.degrees(math.acos(min(1.0, max(-1.0, float(up[0]))))),
        "mouth_above_water_mm": 1e3 * (float(up @ diver.mouth) - rest.level),
        "water_level_m": rest.level,
        "displaced_l": rest.state.volume / LITRE,
        "reserve_buoyancy_kg": body.density * (_whole_volume(body, rest) - rest.state.volume),
        "under_water": _shares(diver, rest),
        "stable": bool(rest.settled and rest.stiffness[0] > 0.0),
        "least_stiffness_nm_per_rad": float(rest.stiffness[0]),
    }


def face(up: Floats) -> str:
    """Which way the diver's front looks, for world-up ``up`` (3,) in body axes: "up", "down" or "to the side"."""
    if abs(float(up[2])) < SIDEWAYS:
        return "forward" if abs(float(up[0])) > abs(float(up[1])) else "to the side"
    return "up" if up[2] < 0.0 else "down"


def _whole_volume(body: FloatingBody, rest: Floating) -> float:
    """All that could displace water [m^3], the gas as it is at this rest."""
    gas = sum(float(gas_state(g, rest.up, rest.level)[0].volume.sum()) for g in body.gas)
    return sum(h.volume for h in body.hulls) + sum(float(s.volume.sum()) for s in body.specks) + gas


def _shares(diver: DiverAfloat, rest: Floating) -> dict[str, float]:
    """Share under water of body parts, cylinders and wing, each perhaps of several hulls."""
    under, whole = dict.fromkeys(diver.names, 0.0), dict.fromkeys(diver.names, 0.0)
    for name, hull in zip(diver.names, diver.body.hulls, strict=True):
        under[name] += hull_under(hull, rest.up, rest.level).volume
        whole[name] += hull.volume
    return {name: min(1.0, max(0.0, under[name] / whole[name])) for name in under}
