"""How far a diver afloat turns when the body's centre of buoyancy is off by what it is unsure by; a minute:

    .venv/bin/python scripts/surface_error.py

Each rest of the demo divers, flat with knees bent and upright, with the CB half a centimetre headward and footward.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from scenarios.demos import demo_path
from sim.assembly.afloat import diver_afloat
from sim.assembly.assembled import Assembled
from sim.assembly.from_file import assembled_from_file
from sim.floating.equilibrium import Floating, rests_afloat
from sim.person.tissue import CB_CM_UNCERTAINTY
from sim.report.surface import NEAR_SURFACE, STARTS
from sim.rig import rig_of

DEMOS = ("small-woman-steel", "small-woman-carbon", "tall-man-steel", "tall-man-carbon", "single-wetsuit")
POSES = ("flat, knees bent", "upright")


def main() -> None:
    print(f"{'':<70}{'trunk [deg]':>14}{'mouth [mm]':>14}")
    print(f"{'':<70}{'+0.5':>7}{'-0.5 cm':>7}{'+0.5':>7}{'-0.5 cm':>7}")
    for demo in DEMOS:
        for pose in POSES:
            told = assembled_from_file(demo_path(demo), [f"water.depth={NEAR_SURFACE} m", f'pose.name="{pose}"'])
            moved = [dict(_rests(_with_cb(told, way * CB_CM_UNCERTAINTY))) for way in (1.0, -1.0)]
            for starts, rest in _together(dict(_rests(told))):
                turned = [_trunk(m[starts[0]][0]) - _trunk(rest[0]) for m in moved]
                raised = [m[starts[0]][1] - rest[1] for m in moved]
                name = f"{demo}, {pose}, from {' and '.join(starts)}"
                print(
                    f"{name:<62}{turned[0]:>+7.1f}{turned[1]:>+7.1f}{raised[0]:>+7.0f}{raised[1]:>+7.0f}", flush=True
                )


def _with_cb(told: Assembled, headward: float) -> Assembled:
    """The same diver with the body's CB moved headward [m]."""
    parts = [
        replace(p, solid=replace(p.solid, cb=p.solid.cb + [headward, 0.0, 0.0])) if p.kind == "body" else p
        for p in told.rig.parts
    ]
    rig = told.rig
    return replace(told, rig=rig_of(parts, rig.water, suit=rig.suit, wing=rig.wing, held=rig.held))


def _rests(told: Assembled) -> Iterator[tuple[str, tuple[Floating, float]]]:
    """Each start with the rest it leads to and the mouth's height over the water [mm]."""
    diver = diver_afloat(told, NEAR_SURFACE)
    names = list(STARTS)
    for rest, starts in rests_afloat(diver.body, [np.array(u) for u in STARTS.values()]):
        for i in starts:
            yield names[i], (rest, 1e3 * (float(rest.up @ diver.mouth) - rest.level))


def _together(found: dict[str, tuple[Floating, float]]) -> Iterator[tuple[list[str], tuple[Floating, float]]]:
    """Each rest once, with all starts that lead to it."""
    rests = {id(rest): (rest, mouth) for rest, mouth in found.values()}
    for key, rest in rests.items():
        yield [name for name, (other, _) in found.items() if id(other) == key], rest


def _trunk(rest: Floating) -> float:
    """Angle of the trunk from the vertical [degrees]."""
    return float(np.degrees(np.arccos(np.clip(rest.up[0], -1.0, 1.0))))


if __name__ == "__main__":
    main()
