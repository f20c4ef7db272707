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


class WaistStrap(Demand):
    """How much farther from the natural waist the strap could lie."""

    def margin(self, found: Found) -> float:
        on = found.on_back
        return waist_margin(on.waist_strap, on.crest, on.tenth_rib)

    def margins(self, hung: Hung) -> Floats:
        heights = hung.who.person.skeleton.heights
        strap = hung.on_plate(hung.rig.plate.waist_slots)[..., 0].mean(axis=1)
        return waist_margins(strap, heights["iliac crest"], heights["tenth rib"])

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        on = found.on_back
        limit = (
            f"webbing between the hip bones and the lowest rib, here {centimetres(on.tenth_rib - on.crest)} apart "
            f"(common practice), or {centimetres(limits.STRAP_OVER_BONE)} over either (assumed), more only where it "
            "cannot be helped"
        )
        margin = self.margin(found)
        return (Verdict(self.name, margin >= 0.0, f"runs {on.place}; {_lies(on)}", margin, limit),)


def _lies(on: OnBack) -> str:
    """Where the webbing lies, counted from its edges."""
    over_hips = on.crest - (on.waist_strap - limits.STRAP_HALF_WIDTH)
    if on.place == "above the waist":
        return _over(on.waist_strap + limits.STRAP_HALF_WIDTH - on.tenth_rib, "upper", "the ribs")
    if on.waist_strap < on.crotch:
        return "its middle is below the crotch, where nobody can wear it"
    if on.place == "on the hips":
        return f"{_over(over_hips, 'lower', 'the hip bones')}, so that ashore the load hangs from the shoulders"
    if over_hips < 0.0:
        return f"the webbing clears the hip bones by {centimetres(over_hips)}"
    return _over(over_hips, "lower", "the hip bones")


def _over(lies: float, end: str, bones: str) -> str:
    """By how much [m] webbing lies over bones, counted from its nearer edge."""
    if lies >= 2.0 * limits.STRAP_HALF_WIDTH:
        return f"all the webbing lies over {bones}"
    return f"its {end} {centimetres(lies)} lie over {bones}"


WAIST_STRAP: Final = WaistStrap(
    name="waist strap",
    reason=Reason(
        "waist strap", "no room for a strap between ribs and hip bones", 8,
        Look("#ffffff", "+++", "no room between ribs and hip bones", 10),
    ),
    place=0, cost=0, set_up=True, traded=True,
)  # fmt: skip
