"""The waist strap lies in the soft waist, between hip bones and ribs."""

from __future__ import annotations

from typing import Final

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.demands.demand import Demand, Look, Reason, centimetres
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.on_back import OnBack
from sim.answers.fit.verdict import Verdict
from sim.answers.fit.waist import waist_margin, waist_margins
from sim.said import known, note, word


class WaistStrap(Demand):
    """How much farther from the natural waist the strap could lie."""

    def margin(self, found: Found) -> float:
        on = found.sits
        return waist_margin(on.waist_strap, on.crest, on.tenth_rib)

    def margins(self, hung: Hung) -> Floats:
        heights = hung.who.person.skeleton.heights
        strap = hung.on_plate(hung.rig.plate.waist_slots)[..., 0].mean(axis=1)
        return waist_margins(strap, heights["iliac crest"], heights["tenth rib"])

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        on = found.on_back
        limit = note(
            "webbing between the hip bones and the lowest rib, here {apart} apart (common practice), or {over} over "
            "either (assumed), more only where it cannot be helped",
            apart=centimetres(on.tenth_rib - on.crest),
            over=centimetres(limits.STRAP_OVER_BONE),
        )
        margin = self.margin(found)
        sentence = note("runs {place}; {lies}", place=known(on.place), lies=_lies(on))
        return (Verdict(self.name, margin >= 0.0, sentence, margin, limit),)


def _lies(on: OnBack) -> str:
    """Where the webbing lies, counted from its edges."""
    over_hips = on.crest - (on.waist_strap - limits.STRAP_HALF_WIDTH)
    if on.place == "above the waist":
        lies = on.waist_strap + limits.STRAP_HALF_WIDTH - on.tenth_rib
        if lies >= 2.0 * limits.STRAP_HALF_WIDTH:
            return note("all the webbing lies over the ribs")
        return note("its upper {size} lie over the ribs", size=centimetres(lies))
    if on.waist_strap < on.crotch:
        return note("its middle is below the crotch, where nobody can wear it")
    if on.place == "on the hips":
        return note("{lies}, so that ashore the load hangs from the shoulders", lies=_over_hips(over_hips))
    if over_hips < 0.0:
        return note("the webbing clears the hip bones by {size}", size=centimetres(over_hips))
    return _over_hips(over_hips)


def _over_hips(lies: float) -> str:
    """By how much [m] webbing lies over the hip bones, counted from its lower edge."""
    if lies >= 2.0 * limits.STRAP_HALF_WIDTH:
        return note("all the webbing lies over the hip bones")
    return note("its lower {size} lie over the hip bones", size=centimetres(lies))


WAIST_STRAP: Final = WaistStrap(
    name=word("waist strap"),
    reason=Reason(
        "waist strap", word("no room for a strap between ribs and hip bones"), 8,
        Look("#ffffff", "+++", word("no room between ribs and hip bones"), 10),
    ),
    place=0, cost=0, set_up=True, traded=True,
)  # fmt: skip
