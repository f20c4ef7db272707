"""The plate ends below the neck, so that it does not bar it."""

from __future__ import annotations

from typing import Final

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.demands.demand import Demand, centimetres
from sim.answers.fit.demands.plate_length import TOO_LONG
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.verdict import Verdict
from sim.said import note, word


class PlateTop(Demand):
    """By how much the plate's top stays below C7, less what it has to."""

    def margin(self, found: Found) -> float:
        return found.sits.c7 - found.sits.top - limits.PLATE_BELOW_C7

    def margins(self, hung: Hung) -> Floats:
        top = hung.on_plate(hung.rig.plate.top[None])[:, 0, 0]
        return hung.who.person.skeleton.heights["c7"] - top - limits.PLATE_BELOW_C7

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        on, margin = found.on_back, self.margin(found)
        below = on.c7 - on.top
        size, level = centimetres(below), _level(on.top - on.acromion)
        if below >= 0.0:
            sentence = note("its top is {size} below the neck bone (C7) and {level}", size=size, level=level)
        else:
            sentence = note("its top is {size} above the neck bone (C7) and {level}", size=size, level=level)
        if margin < 0.0:
            sentence = note(
                "{where}: the plate is longer than this back is above the waist, or hangs too high", where=sentence
            )
        limit = note(
            "{least} or more below the neck bone (C7), so that it does not bar the neck (assumed)",
            least=centimetres(limits.PLATE_BELOW_C7),
        )
        return (Verdict(self.name, margin >= 0.0, sentence, margin, limit),)


def _level(above: float) -> str:
    """Height against the shoulders' bones in words."""
    if abs(above) < 0.005:
        return note("level with the shoulders")
    if above > 0.0:
        return note("{size} above the shoulders", size=centimetres(above))
    return note("{size} below the shoulders", size=centimetres(above))


PLATE_TOP: Final = PlateTop(name=word("plate top"), reason=TOO_LONG, place=6, cost=1, set_up=True)
