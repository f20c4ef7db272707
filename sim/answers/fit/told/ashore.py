"""The carry ashore as rows of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees

from sim.answers.fit.ashore import Ashore, LoadShare
from sim.rig import STANDARD_GRAVITY
from sim.said import by_units, note
from sim.telling.language import quantity, say, set_apart, told
from sim.telling.lead_words import HALF_A_METRE, TWENTY_INCHES, lead_at


def ashore_rows(a: Ashore) -> Iterator[tuple[str, str]]:
    """Label and sentence of each row."""
    yield say("to carry"), _load_words(a)
    yield say("what others carry"), set_apart(_share_words(s) for s in a.load_shares) + "."
    yield say("standing"), _standing_words(a)
    yield say("shoulders"), _shoulder_words(a)
    bare = [a.bare_neck_moment] * 2
    bent = say(
        "held level while the trunk leans, the head bends the neck {bent} ({bare} without gear).",
        bent=_bent(a.neck_moment, 1),
        bare=_bent(bare, 1),
    )
    yield say("neck"), bent
    yield say("lower back"), _back_words(a)
    yield say("what helps"), told(a.advice)


def _load_words(a: Ashore) -> str:
    words = say(
        "{carried} of rig and lead, {share:.0f} % of the diver's {body}, and {clothes} of suit worn",
        carried=quantity(a.carried, "kg", 1),
        share=100 * a.load_share,
        body=quantity(a.body_mass, "kg", 0),
        clothes=quantity(a.clothes, "kg", 1),
    )
    if not a.in_the_hands > 0.0:
        return f"{words}."
    hands = quantity(a.in_the_hands, "kg", 1)
    return say("{words}; {hands} of fins in the hands, left out below.", words=words, hands=hands)


def _share_words(share: LoadShare) -> str:
    return say("{share} {who}", share=_span((100.0 * share.least, 100.0 * share.greatest), "%"), who=told(share.who))


def _standing_words(a: Ashore) -> str:
    ahead = a.from_heel
    by, size = quantity(abs(100 * a.behind), "cm", 0), quantity(abs(100 * ahead), "cm", 0)
    back = a.behind >= 0.0
    return say(
        "bolt upright, the weight of all is {moved}, {where}. To stand, the diver {lean}: the least with a stiff "
        "body from the ankles, the greatest by bending at the hips alone.",
        moved=say("{by} further back than without the gear", by=by)
        if back
        else say("{by} further forward than without the gear", by=by),
        where=say("{size} in front of the hindmost point of the heels", size=size)
        if ahead >= 0.0
        else say("{size} behind the hindmost point of the heels", size=size),
        lean=lean_words(a.lean),
    )


def lean_words(lean: Sequence[float]) -> str:
    """How a diver leans to stand [rad, plus forward], the least and the greatest."""
    found = [degrees(v) for v in lean]
    if max(found) > 0.0:
        return say("leans forward {angles} degrees", angles=_span(found))
    return say("leans back {angles} degrees", angles=_span(sorted(abs(v) for v in found)))


def _shoulder_words(a: Ashore) -> str:
    """What the shoulders bear with the least on the hips; of bare webbing nobody has measured more."""
    most = a.shoulder_force[1] / STANDARD_GRAVITY
    bear = say("{both}, {one} each", both=quantity(most, "kg", 0), one=quantity(0.5 * most, "kg", 0))
    if a.place == "on the waist":
        return say(
            "with {share:.0f} % of the rig on the hips, as measured on padded hip belts, they bear {bear}; what "
            "bare webbing takes off them was never measured.",
            share=100.0 * a.hips_share[0],
            bear=bear,
        )
    return say(
        "they bear up to {bear}; what a strap {place} takes off them was never measured.",
        bear=bear,
        place=told(a.place),
    )


def _back_words(a: Ashore) -> str:
    bare, bent = [a.bare_back_moment] * 2, a.back_moment
    most = max(bent, key=abs)
    pressed, pressed_bare = (
        _span([force / STANDARD_GRAVITY for force in v], "kg") for v in (a.compression, a.bare_compression)
    )
    found = {"bent": _bent(bent), "bare": _bent(bare), "pressed": pressed, "pressed_bare": pressed_bare}
    metric = note(
        "standing so, trunk and rig bend it {bent} (at most like {like} "
        "moved half a metre; {bare} without gear) and press it as {pressed} would ({pressed_bare} "
        "without gear). Getting the rig up is the harder part.",
        like=lead_at(most, HALF_A_METRE, 0),
        **found,
    )
    imperial = note(
        "standing so, trunk and rig bend it {bent} (at most like {like} "
        "moved 20 in; {bare} without gear) and press it as {pressed} would ({pressed_bare} "
        "without gear). Getting the rig up is the harder part.",
        like=lead_at(most, TWENTY_INCHES, 0),
        **found,
    )
    return told(by_units(metric, imperial))


def _bent(pair: Sequence[float], digits: int = 0) -> str:
    """Moments (least, greatest; plus forward) as "forward with 3 to 7 N m"."""
    low, high = (round(v, digits) for v in pair)
    if low >= 0.0 or high <= 0.0:
        size = _span(sorted((abs(low), abs(high))), "N m", digits)
        return say("forward with {size}", size=size) if high > 0.0 else say("backward with {size}", size=size)
    return say(
        "between {back} backward and {ahead} forward",
        back=quantity(-low, "N m", digits),
        ahead=quantity(high, "N m", digits),
    )


def _span(pair: Sequence[float], unit: str = "", digits: int = 0) -> str:
    """As "3 to 15 kg", or one number where both are shown alike."""
    first, last = (quantity(v, unit, digits, bare=True) for v in pair)
    whole = quantity(pair[1], unit, digits, bare=not unit)
    return whole if first == last else say("{first} to {last}", first=first, last=whole)
