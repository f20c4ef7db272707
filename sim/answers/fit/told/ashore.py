"""The carry ashore in ``hangflat.fit/1``, and as rows of text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import degrees
from typing import Any, Final

from sim.answers.fit.ashore import Ashore, Range
from sim.answers.fit.limits import LIFTING_COMPRESSION, LOAD_SHARES
from sim.rig import STANDARD_GRAVITY
from sim.telling.lead_words import kilograms_at_half_a_metre

Object = Mapping[str, Any]
HIPS_BASIS: Final = {
    "on the waist": "30 % was measured on padded hip belts, 60 to 90 % is claimed without data",
    "on the hips": "assumed: nothing was measured for bare webbing over the hip bones",
    "above the waist": "assumed: nothing was measured for a strap above the waist",
}
ADVICE: Final = (
    "Carrying less at a time helps most: bring cylinders, lead and the rest in parts, or leave the rig on a bench or "
    "a tailgate, slip into it seated and keep the way to the water short. Walking, steps and uneven ground ask for "
    "more than standing. Whether a back, neck or shoulder should carry this at all is for a doctor or "
    "physiotherapist to say, not for this program."
)


def ashore_json(a: Ashore) -> dict[str, Any]:
    """Forces N, moments N m (plus bends forward), lengths m, angles degrees; pairs are least and greatest."""
    return {
        "body_mass_kg": float(a.body_mass),
        "carried_kg": float(a.load.carried),
        "carried_share_of_body_mass": float(a.load_share),
        "rig_kg": float(a.load.rig.mass),
        "rig_cm_m": [float(x) for x in a.load.rig.cm],
        "belt_lead_kg": float(a.load.belt),
        "clothes_kg": float(a.load.clothes + a.load.head + a.load.legs),
        "in_the_hands_kg": float(a.load.hands),
        "cm_upright_m": [float(a.cm[0]), 0.0, float(a.cm[1])],
        "cm_behind_bare_m": float(a.behind),
        "cm_before_heels_m": float(a.from_heel),
        "lean_from_ankles_deg": degrees(a.lean[0]),
        "lean_from_hips_deg": degrees(a.lean[1]),
        "waist_strap": a.place,
        "hips_share": _pair(a.hips_share),
        "hips_share_basis": HIPS_BASIS[a.place],
        "shoulder_force_n": _pair(a.shoulder_force),
        "strap_pull_n": _pair(a.strap_pull),
        "collarbone_moment_nm": _pair(a.girdle_moment),
        "l5_s1_moment_nm": _pair(a.back_moment),
        "l5_s1_moment_doubt_nm": float(a.back_doubt),
        "l5_s1_moment_bare_nm": float(a.bare_back_moment),
        "l5_s1_compression_n": _pair(a.compression),
        "l5_s1_compression_bare_n": _pair(a.bare_compression),
        "lifting_compression_limit_n": LIFTING_COMPRESSION,
        "neck_moment_nm": _pair(a.neck_moment),
        "neck_moment_bare_nm": float(a.bare_neck_moment),
        "load_shares": [{"least": low, "greatest": high, "who": who} for low, high, who in LOAD_SHARES],
        "advice": ADVICE,
    }


def ashore_rows(told: Object) -> Iterator[tuple[str, str]]:
    """Label and sentence of each row, from what ``ashore_json`` made."""
    yield "to carry", _load_words(told)
    yield "what others carry", "; ".join(_share_words(s) for s in told["load_shares"]) + "."
    yield "standing", _standing_words(told)
    yield "shoulders", _shoulder_words(told)
    bare = [told["neck_moment_bare_nm"]] * 2
    bent = (
        f"held level while the trunk leans, the head bends the neck {_bent(told['neck_moment_nm'], 1)} "
        f"({_bent(bare, 1)} without gear)."
    )
    yield "neck", bent
    yield "lower back", _back_words(told)
    yield "what helps", told["advice"]


def _load_words(told: Object) -> str:
    words = (
        f"{told['carried_kg']:.1f} kg of rig and lead, {100 * told['carried_share_of_body_mass']:.0f} % of the "
        f"diver's {told['body_mass_kg']:.0f} kg, and {told['clothes_kg']:.1f} kg of suit worn"
    )
    hands = told["in_the_hands_kg"]
    return words + (f"; {hands:.1f} kg of fins in the hands, left out below." if hands > 0.0 else ".")


def _share_words(share: Object) -> str:
    return f"{_span((share['least'], share['greatest']), 0.01)} % {share['who']}"


def _standing_words(told: Object) -> str:
    ahead = told["cm_before_heels_m"]
    where = f"{abs(100 * ahead):.0f} cm {'in front of' if ahead >= 0.0 else 'behind'} the hindmost point of the heels"
    leans = told["lean_from_ankles_deg"], told["lean_from_hips_deg"]
    return (
        f"bolt upright, the weight of all is {100 * told['cm_behind_bare_m']:.0f} cm further back than without the "
        f"gear, {where}. To stand, the diver leans forward {_span(leans)} degrees: the least with a stiff body from "
        "the ankles, the greatest by bending at the hips alone."
    )


def _shoulder_words(told: Object) -> str:
    """What the shoulders bear with the least on the hips; of bare webbing nobody has measured more."""
    most = told["shoulder_force_n"][1] / STANDARD_GRAVITY
    bear = f"{most:.0f} kg, {0.5 * most:.0f} kg each"
    if told["waist_strap"] == "on the waist":
        share = 100.0 * told["hips_share"][0]
        return (
            f"with {share:.0f} % of the rig on the hips, as measured on padded hip belts, they bear {bear}; what "
            "bare webbing takes off them was never measured."
        )
    return f"they bear up to {bear}; what a strap {told['waist_strap']} takes off them was never measured."


def _back_words(told: Object) -> str:
    bare, bent = [told["l5_s1_moment_bare_nm"]] * 2, told["l5_s1_moment_nm"]
    most = max(bent, key=abs)
    pressed, pressed_bare = (_span(told[f"l5_s1_compression{k}_n"], STANDARD_GRAVITY) for k in ("", "_bare"))
    return (
        f"standing so, trunk and rig bend it {_bent(bent)} (at most like {kilograms_at_half_a_metre(most):.0f} kg "
        f"moved half a metre; {_bent(bare)} without gear) and press it as {pressed} kg would ({pressed_bare} kg "
        "without gear). Getting the rig up is the harder part."
    )


def _bent(pair: Sequence[float], digits: int = 0) -> str:
    """Moments (least, greatest; plus forward) as "forward with 3 to 7 N m"."""
    low, high = (round(v, digits) for v in pair)
    if low >= 0.0 or high <= 0.0:
        side = "forward" if high > 0.0 else "backward"
        return f"{side} with {_span(sorted((abs(low), abs(high))), digits=digits)} N m"
    return f"between {-low:.{digits}f} N m backward and {high:.{digits}f} N m forward"


def _span(pair: Sequence[float], unit: float = 1.0, digits: int = 0) -> str:
    """As "3 to 15" of some unit, or one number where both are shown alike."""
    first, last = (f"{v / unit:.{digits}f}" for v in pair)
    return first if first == last else f"{first} to {last}"


def _pair(pair: Range) -> list[float]:
    return [float(pair[0]), float(pair[1])]
