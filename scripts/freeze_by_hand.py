"""How long a diver who stops moving takes to turn by 30 degrees, by hand beside the program; some seconds:

    .venv/bin/python scripts/freeze_by_hand.py [scenario files]

First a woman in a twin set item by item; then each demo diver (or each file given) with inertia and drag as the
program has them, the moment held as it is when flat, by theta = I/c ln cosh(sqrt(M c) t / I), beside the motion
itself, in which the moment changes as the diver tips and the gas moves.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from scenarios.demos import demo_names, demo_path
from sim.answers.check_bench.predicted import turning
from sim.answers.evidence.freeze import by_hand, by_program, inertia_and_drag, time_by_hand, time_by_program
from sim.answers.evidence.pendulums import TURN, time_to_turn
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

COLUMNS = ("mass", "inertia", "water", "drag")
WIDTHS = (7, 9, 10, 8)


def main(files: list[str]) -> None:
    print("\n".join(woman_lines()))
    print(f"\n{'':<28}{'moment':>9}{'inertia':>10}{'drag':>11}{'constant':>12}{'program':>10}")
    print(f"{'':<28}{'N m':>9}{'kg m^2':>10}{'N m s^2':>11}{'moment, s':>12}{'s':>10}")
    for file in [Path(f) for f in files] or [Path(demo_path(name)) for name in demo_names()]:
        rig = Case.read(file).assembled.rig
        moment = flat_answer(soft_rig(rig)).pitch_moment
        inertia, drag = inertia_and_drag(rig)
        hand = time_to_turn(TURN, abs(moment), inertia, drag)
        found = turning(rig).time_to_30
        told = "never" if found is None else f"{found:.2f}"
        print(f"{file.stem:<28}{moment:>9.1f}{inertia:>10.1f}{drag:>11.1f}{hand:>12.2f}{told:>10}", flush=True)


def woman_lines() -> Iterator[str]:
    """The woman's items: by hand, then by the program."""
    yield f"{'woman in a twin set':<28}{'mass':>16}{'inertia':>18}{'of water':>19}{'drag at 1 rad/s':>17}"
    yield f"{'':<28}{'kg':>16}{'kg m^2':>18}{'kg m^2':>19}{'N m':>17}"
    yield f"{'':<28}" + "".join(f"{'hand':>{w}}{'program':>9}" for w in WIDTHS)
    hand, program = by_hand(), by_program()
    for a, b in zip(hand, program, strict=True):
        # what the hand has in several rows stands in the last of them
        pairs = [(f"{getattr(a, k):.2f}", f"{getattr(b, k):.2f}" if b.mass > 0.0 else "") for k in COLUMNS]
        yield f"{a.item:<28}" + "".join(f"{x:>{w}}{y:>9}" for (x, y), w in zip(pairs, WIDTHS, strict=True))
    sums = [tuple(sum(getattr(s, k) for s in side) for side in (hand, program)) for k in COLUMNS]
    yield f"{'together':<28}" + "".join(f"{x:>{w}.1f}{y:>9.1f}" for (x, y), w in zip(sums, WIDTHS, strict=True))
    yield f"30 degrees: by hand {time_by_hand():.2f} s, program {time_by_program():.2f} s"


if __name__ == "__main__":
    main(sys.argv[1:])
