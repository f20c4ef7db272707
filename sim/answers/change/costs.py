"""What a set of changes costs elsewhere, in the sentences of an instructor: lift, load, hands, eyes, drift."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from sim.answers.change.candidate import Candidate
from sim.answers.change.occasions import Met
from sim.answers.fit.answer import found_on
from sim.answers.posture.posture import Posture
from sim.case import Case

LITRE: Final = 1e-3
LEAST_GAS: Final = 5e-4  # m^3 in the wing, below which nothing is said (assumed)
LEAST_LOAD: Final = 0.5  # kg to carry (assumed)
LEAST_REACH: Final = 0.01  # m of a hand's reach (assumed)
LEAST_LIFT: Final = math.radians(3.0)  # of the head (assumed)
QUICKER: Final = 0.9  # of the time in which a drift doubles (assumed)


def costs(
    changes: Sequence[Candidate], cases: tuple[Case, Case], met: tuple[Met, Met], postures: tuple[Posture, Posture]
) -> Iterator[str]:
    """Of ``changes``, each pair before and after; nothing where nothing is lost."""
    yield from dict.fromkeys(c.cost for c in changes if c.cost)
    yield from _lift(cases[1], *met)
    load = cases[1].rig.whole.mass - cases[0].rig.whole.mass
    if load >= LEAST_LOAD:
        yield f"There are {load:.1f} kg more to carry to the water."
    if any(c.fit for c in changes):
        yield from _hands_and_eyes(*cases)
    before, after = (p.time_to_double for p in postures)
    if after is not None and (before is None or after < QUICKER * before):
        now = "is turned back by itself" if before is None else f"doubles in {before:.1f} s"
        yield f"A drift doubles in {after:.1f} s, where now it {now}."


def _lift(case: Case, before: Met, after: Met) -> Iterator[str]:
    """Of the wing at the start."""
    wing, more = case.rig.wing, after.start.wing_gas - before.start.wing_gas
    if wing is None or not more >= LEAST_GAS:
        return
    spare = float(wing.law.most.sum()) - after.start.wing_gas
    yield (
        f"The wing holds {more / LITRE:.1f} l more at the start, {after.start.wing_gas / LITRE:.1f} l, which leaves "
        f"{spare / LITRE:.1f} l of its room."
    )


def _hands_and_eyes(before: Case, after: Case) -> Iterator[str]:
    """Reach that is lost, and how far the head lifts."""
    if before.worn is None or after.worn is None:
        return
    was, now = found_on(before.assembled), found_on(after.assembled)
    for valve, margin in now.hands.items():
        earlier = was.hands.get(valve)
        if earlier is not None and math.isfinite(earlier) and not margin >= earlier - LEAST_REACH:
            yield f"The hand has {_cm(margin)} at the {valve}, where now it has {_cm(earlier)}."
    if not now.look_ahead.lift >= was.look_ahead.lift - LEAST_LIFT:
        lifts = [math.degrees(found.look_ahead.lift) for found in (now, was)]
        yield f"The head lifts by {lifts[0]:.0f} degrees, where now it lifts by {lifts[1]:.0f}."


def _cm(margin: float) -> str:
    if not math.isfinite(margin):
        return "no way to reach it"
    return f"{abs(100.0 * margin):.1f} cm {'to spare' if margin >= 0.0 else 'too little'}"
