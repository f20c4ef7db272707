"""The gear leaves the head free, or the eyes of a diver held flat look high enough ahead."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.cloud import least, none_below
from sim.answers.fit.demands.demand import Demand, Flags, Look, Reason
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.look_ahead import ahead_margin, distance_ahead, enough_lift, look_ahead_margin, looking_ahead
from sim.answers.fit.verdict import Verdict
from sim.said import amount, known, note, word


class LooksAhead(Demand):
    """By what angle the head is freer, or the eyes look higher, than need be."""

    def margin(self, found: Found) -> float:
        look = found.look_ahead
        return float(ahead_margin(look.gear, look.free, look.ahead))

    def margins(self, hung: Hung) -> Floats:
        who, (plate, hanging) = hung.who, hung.rig.gear
        gear = least(hanging, *hung.hanging, who.head)
        latest = np.full(len(hung.seats), -np.inf)
        np.maximum.at(latest, hung.seat, gear)  # only a plate that is met before that counts
        gear = np.minimum(least(plate, hung.rotations, hung.origins, who.head, latest)[hung.seat], gear)
        return np.asarray(ahead_margin(gear, who.neck, looking_ahead(gear, who.neck, who.eyes)))

    def met(self, hung: Hung) -> Flags:
        who, (plate, hanging) = hung.who, hung.rig.gear
        lift = enough_lift(who.neck, who.eyes)
        flags = none_below(plate, hung.rotations, hung.origins, who.head, lift)[hung.seat]
        free = np.flatnonzero(flags)
        rotations, origins = hung.hanging
        flags[free] = none_below(hanging, rotations[free], origins[free], who.head, lift)
        return flags

    def failing(self, found: Found) -> tuple[str, ...]:
        return () if look_ahead_margin(found.worn) >= 0.0 else (self.name,)

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        a = found.look_ahead
        degrees = np.degrees([max(a.gear, 0.0), a.free, a.ahead])
        if a.gear < a.free:
            lift = note(
                "the head lifts by {gear:.0f} degrees, then it meets {what} (the neck lets it go to {free:.0f})",
                gear=degrees[0],
                what=known(a.blocked_by),
                free=degrees[1],
            )
        else:
            lift = note(
                "the head lifts by {free:.0f} degrees, as far as the neck lets it: no gear is in the way",
                free=degrees[1],
            )
        sentence = note("{lift}; held flat, the eyes look {ahead}", lift=lift, ahead=_against_ahead(a.ahead))
        limit = note(
            "the gear leaves the head free, or the eyes get to {below:.0f} degrees below straight ahead (assumed)",
            below=-limits.SEES_AHEAD_DEG,
        )
        return (Verdict(self.name, self.margin(found) >= 0.0, sentence, None, limit),)


def _against_ahead(ahead: float) -> str:
    degrees = np.degrees(ahead)
    if degrees > -0.5:
        if degrees < 0.5:
            return note("straight ahead")
        return note("{angle:.0f} degrees above straight ahead", angle=degrees)
    return note(
        "{angle:.0f} degrees below straight ahead: they see the bottom {far} ahead when {high} above it",
        angle=-degrees,
        far=amount(distance_ahead(ahead), "m", 1),
        high=amount(limits.ABOVE_BOTTOM, "m", 1),
    )


LOOKS_AHEAD: Final = LooksAhead(
    name=word("look-ahead"),
    reason=Reason("look-ahead", word("cannot see ahead"), 1, Look("#e6dc8a", "///", word("cannot see ahead"), 3)),
    place=4, cost=5, by_bands=True, set_up=True, traded=True, unit="rad",
)  # fmt: skip
