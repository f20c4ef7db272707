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
from sim.said import Sentence, amount, known, note

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
        yield note("There are {load} more to carry to the water.", load=amount(load, "kg", 1))
    if any(c.fit for c in changes):
        yield from _hands_and_eyes(*cases)
    before, after = (p.time_to_double for p in postures)
    if after is not None and (before is None or after < QUICKER * before):
        yield _quicker(before, after)


def _quicker(before: float | None, after: float) -> Sentence:
    """A drift that doubles in so many seconds; None where nothing drifts."""
    if before is None:
        return note("A drift doubles in {after:.1f} s, where now it is turned back by itself.", after=after)
    return note(
        "A drift doubles in {after:.1f} s, where now it doubles in {before:.1f} s.", after=after, before=before
    )


def _lift(case: Case, before: Met, after: Met) -> Iterator[str]:
    """Of the wing at the start."""
    wing, more = case.rig.wing, after.start.wing_gas - before.start.wing_gas
    if wing is None or not more >= LEAST_GAS:
        return
    spare = float(wing.law.most.sum()) - after.start.wing_gas
    yield note(
        "The wing holds {more} more at the start, {gas}, which leaves {spare} of its room.",
        more=amount(more / LITRE, "l", 1),
        gas=amount(after.start.wing_gas / LITRE, "l", 1),
        spare=amount(spare / LITRE, "l", 1),
    )


def _hands_and_eyes(before: Case, after: Case) -> Iterator[str]:
    """Reach that is lost, and how far the head lifts."""
    if before.worn is None or after.worn is None:
        return
    was, now = found_on(before.assembled), found_on(after.assembled)
    for valve, margin in now.hands.items():
        earlier = was.hands.get(valve)
        if earlier is not None and math.isfinite(earlier) and not margin >= earlier - LEAST_REACH:
            yield note(
                "The hand has {then} at the {valve}, where now it has {now}.",
                then=_reach(margin),
                valve=known(valve),
                now=_reach(earlier),
            )
    if not now.look_ahead.lift >= was.look_ahead.lift - LEAST_LIFT:
        lifts = [math.degrees(found.look_ahead.lift) for found in (now, was)]
        yield note(
            "The head lifts by {then:.0f} degrees, where now it lifts by {now:.0f}.", then=lifts[0], now=lifts[1]
        )


def _reach(margin: float) -> Sentence:
    if not math.isfinite(margin):
        return note("no way to reach it")
    size = amount(abs(100.0 * margin), "cm", 1)
    return note("{size} to spare", size=size) if margin >= 0.0 else note("{size} too little", size=size)
