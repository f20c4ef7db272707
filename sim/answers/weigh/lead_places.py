"""Where the lead should lie so that the diver is turned least at the start and at the end.

The whole lead weighs the same wherever it lies, so the wing holds the same, and the moment of lead that is shared out
is the mean of the moments with all of it in one place, by mass: every split follows from one moment a place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import Final

import numpy as np

from sim.answers.weigh.answer import Lying, Piece, Place
from sim.answers.weigh.ballast import LeadParts, with_lead
from sim.rig import Part, Rig
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

STEP: Final = 0.5  # kg, the lightest block that is sold everywhere (common practice)
# kg that a place takes: a pair of ankle weights, a tail weight, a block at the upper band, a strip in the channel,
# a bar in the gap (common practice)
MOST: Final[Mapping[str, float]] = {
    "ankles": 2.0, "tail": 4.0, "upper band": 4.0, "plate channel": 8.0, "between cylinders": 8.0,
}  # fmt: skip
WORTH: Final = 1.0  # N m: a second place that brings less is not worth the trouble (assumed)


def places(start: Rig, end: Rig, lead: LeadParts, mass: float) -> tuple[Place, ...]:
    """Every place with all ``mass`` [kg] of lead in it."""
    lift, found = next_lift(start), []
    nothing = None if mass > 0.0 else (moment(start, []), moment(end, []))
    for place, piece in lead.places.items():
        worn = [lead.at(place, mass)]
        both = (moment(start, worn), moment(end, worn)) if nothing is None else nothing
        found.append(Place(place, per_kilogram(start, piece, lift), *both))
    return tuple(found)


def moment(rig: Rig, lead: Sequence[Part]) -> float:
    """Trimming moment [N m], plus head-up, of the rig with this lead in place of its own."""
    return flat_answer(soft_rig(with_lead(rig, lead))).pitch_moment


def per_kilogram(rig: Rig, piece: Part, lift: float) -> float:
    """What a kilogram of this lead turns with [N m/kg], plus head-up, where what it weighs in water is lifted at
    ``lift``, x [m] in body axes."""
    water, solid = rig.water, piece.solid
    weight = solid.mass - water.density * solid.volume
    return float(-water.gravity * weight * (solid.cm[0] - lift) / solid.mass)


def next_lift(rig: Rig) -> float:
    """Where the wing takes its next litre, x [m] in body axes; without a wing, where the rig is held."""
    state = flat_answer(soft_rig(rig)).field.wing
    if rig.wing is None or state is None:
        return float(rig.held[0])
    gives, x = state.slope[0], rig.wing.cells[:, 0]
    return float(gives @ x / gives.sum()) if gives.sum() > 0.0 else float(x.mean())


def best_lying(at: Sequence[Place], mass: float) -> Lying | None:
    """Lead by place with the least moment at start or end, whichever is larger; None without lead."""
    if not mass >= 0.5 * STEP:
        return None
    moments: dict[str, tuple[float, float]] = {p.place: (p.start, p.end) for p in at}
    singles = [_lying({p: mass}, moments) for p in moments if mass <= _most(p) + 1e-9]
    pairs = [_lying(split, moments) for split in _pairs(list(moments), mass)]
    one = min(singles, key=_worst)
    two = min(pairs, key=_worst, default=one)
    return two if _worst(two) < _worst(one) - WORTH else one


def _pairs(names: Sequence[str], mass: float) -> Iterator[dict[str, float]]:
    for a, b in combinations(names, 2):
        for piece in np.arange(STEP, mass - 0.5 * STEP + 1e-9, STEP):
            for first, second in ((a, b), (b, a)):
                if piece <= _most(first) + 1e-9 and mass - piece <= _most(second) + 1e-9:
                    yield {first: float(piece), second: float(mass - piece)}


def _most(place: str) -> float:
    return MOST.get(place, float("inf"))


def _lying(split: Mapping[str, float], moments: Mapping[str, tuple[float, float]]) -> Lying:
    total = sum(split.values())
    start, end = (sum(m * moments[p][k] for p, m in split.items()) / total for k in (0, 1))
    return Lying(tuple(Piece(p, m) for p, m in split.items()), start, end)


def _worst(lying: Lying) -> float:
    return max(abs(lying.start), abs(lying.end))
