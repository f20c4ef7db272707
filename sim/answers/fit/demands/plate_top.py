"""The plate ends below the neck, so that it does not bar it."""

from __future__ import annotations

from typing import Final

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.demands.demand import Demand, above_or_below, centimetres
from sim.answers.fit.demands.plate_length import TOO_LONG
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.verdict import Verdict


class PlateTop(Demand):
    """By how much the plate's top stays below C7, less what it has to."""

    def margin(self, found: Found) -> float:
        return found.on_back.c7 - found.on_back.top - limits.PLATE_BELOW_C7

    def margins(self, hung: Hung) -> Floats:
        top = hung.on_plate(hung.rig.plate.top[None])[:, 0, 0]
        return hung.who.person.skeleton.heights["c7"] - top - limits.PLATE_BELOW_C7

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        on, margin = found.on_back, self.margin(found)
        below = on.c7 - on.top
        sentence = (
            f"its top is {centimetres(below)} {'below' if below >= 0.0 else 'above'} the neck bone (C7) and "
            f"{_level(on.top - on.acromion)}"
        )
        if margin < 0.0:
            sentence += ": the plate is longer than this back is above the waist, or hangs too high"
        limit = (
            f"{centimetres(limits.PLATE_BELOW_C7)} or more below the neck bone (C7), so that it does not bar the "
            "neck (assumed)"
        )
        return (Verdict(self.name, margin >= 0.0, sentence, margin, limit),)


def _level(above: float) -> str:
    """Height against the shoulders' bones in words."""
    if abs(above) < 0.005:
        return "level with the shoulders"
    return f"{above_or_below(above)} the shoulders"


PLATE_TOP: Final = PlateTop(name="plate top", reason=TOO_LONG, place=6, cost=1, set_up=True)
