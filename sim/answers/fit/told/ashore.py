"""The carry ashore as rows of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees

from sim.answers.fit.ashore import Ashore, LoadShare
from sim.rig import STANDARD_GRAVITY
from sim.telling.lead_words import kilograms_at_half_a_metre


def ashore_rows(a: Ashore) -> Iterator[tuple[str, str]]:
    """Label and sentence of each row."""
    yield "to carry", _load_words(a)
    yield "what others carry", "; ".join(_share_words(s) for s in a.load_shares) + "."
    yield "standing", _standing_words(a)
    yield "shoulders", _shoulder_words(a)
    bare = [a.bare_neck_moment] * 2
    bent = (
        f"held level while the trunk leans, the head bends the neck {_bent(a.neck_moment, 1)} "
        f"({_bent(bare, 1)} without gear)."
    )
    yield "neck", bent
    yield "lower back", _back_words(a)
    yield "what helps", a.advice


def _load_words(a: Ashore) -> str:
    words = (
        f"{a.carried:.1f} kg of rig and lead, {100 * a.load_share:.0f} % of the diver's {a.body_mass:.0f} kg, and "
        f"{a.clothes:.1f} kg of suit worn"
    )
    hands = a.in_the_hands
    return words + (f"; {hands:.1f} kg of fins in the hands, left out below." if hands > 0.0 else ".")


def _share_words(share: LoadShare) -> str:
    return f"{_span((share.least, share.greatest), 0.01)} % {share.who}"


def _standing_words(a: Ashore) -> str:
    ahead = a.from_heel
    leans = [degrees(v) for v in a.lean]
    where = f"{abs(100 * ahead):.0f} cm {'in front of' if ahead >= 0.0 else 'behind'} the hindmost point of the heels"
    return (
        f"bolt upright, the weight of all is {100 * a.behind:.0f} cm further back than without the "
        f"gear, {where}. To stand, the diver leans forward {_span(leans)} degrees: the least with a stiff body from "
        "the ankles, the greatest by bending at the hips alone."
    )


def _shoulder_words(a: Ashore) -> str:
    """What the shoulders bear with the least on the hips; of bare webbing nobody has measured more."""
    most = a.shoulder_force[1] / STANDARD_GRAVITY
    bear = f"{most:.0f} kg, {0.5 * most:.0f} kg each"
    if a.place == "on the waist":
        share = 100.0 * a.hips_share[0]
        return (
            f"with {share:.0f} % of the rig on the hips, as measured on padded hip belts, they bear {bear}; what "
            "bare webbing takes off them was never measured."
        )
    return f"they bear up to {bear}; what a strap {a.place} takes off them was never measured."


def _back_words(a: Ashore) -> str:
    bare, bent = [a.bare_back_moment] * 2, a.back_moment
    most = max(bent, key=abs)
    pressed, pressed_bare = (_span(v, STANDARD_GRAVITY) for v in (a.compression, a.bare_compression))
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
