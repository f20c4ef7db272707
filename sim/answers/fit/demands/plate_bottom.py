"""The plate ends above the buttocks, or it tips when the diver bends or sits."""

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


class PlateBottom(Demand):
    """By how much the plate's lower end stays above the fullest of the buttocks, less what it has to."""

    def margin(self, found: Found) -> float:
        return found.sits.bottom - found.sits.buttock - limits.PLATE_ABOVE_BUTTOCKS

    def margins(self, hung: Hung) -> Floats:
        bottom = hung.on_plate(hung.rig.plate.bottom[None])[:, 0, 0]
        return bottom - hung.who.person.skeleton.heights["buttock"] - limits.PLATE_ABOVE_BUTTOCKS

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        """Nothing is said of a plate that ends where it should."""
        on, margin = found.on_back, self.margin(found)
        if margin >= 0.0:
            return ()
        above = on.bottom - on.buttock
        if above > 0.0:
            sentence = note(
                "its lower end lies {size} above the fullest of the buttocks: it tips when the diver bends or sits",
                size=centimetres(above),
            )
        else:
            sentence = note(
                "its lower end lies {size} below the fullest of the buttocks: it tips when the diver bends or sits",
                size=centimetres(above),
            )
        limit = note("{least} or more above it (assumed)", least=centimetres(limits.PLATE_ABOVE_BUTTOCKS))
        return (Verdict(self.name, False, sentence, margin, limit),)


PLATE_BOTTOM: Final = PlateBottom(name=word("plate bottom"), reason=TOO_LONG, place=3, cost=1)
