"""Where bolts and slots are on a plate, as a sentence: from its top edge and from its middle line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from meshes.plate.edges import NOTHING, Source, Told
from sim.said import Amount, Sentence, amount, note, word

SOURCES: Final[Mapping[Source, str]] = {
    "stated": word("stated"), "found": word("found"), "assumed": word("assumed"),
}  # fmt: skip


def place_note(place: Told) -> Sentence:
    """As "50.0 mm from the top edge, 131.5 mm to either side of the middle line"."""
    downs, across = _once(place.down), _across(place.across)
    if len(downs) == 1:
        return note("{down} from the top edge, {across}", down=_mm(downs[0]), across=across)
    upper, lower = amount(1e3 * downs[0], "mm", 1, bare=True), _mm(downs[1])
    return note("{upper} and {lower} from the top edge, {across}", upper=upper, lower=lower, across=across)


def _across(places: Sequence[float]) -> Sentence:
    if max(map(abs, places)) < NOTHING:
        return note("on the middle line")
    if len(places) == 2 and abs(sum(places)) < 2.0 * NOTHING:
        return note("{mm} to either side of the middle line", mm=_mm(abs(places[0])))
    sides = _once(places)
    if len(sides) == 1:
        left = sides[0] > 0.0
        mm = _mm(abs(sides[0]))
        if left:
            return note("{mm} to the left of the middle line", mm=mm)
        return note("{mm} to the right of the middle line", mm=mm)
    one, other = (_side(side) for side in sides)
    return note("{one} and {other} of the middle line", one=one, other=other)


def _side(across: float) -> Sentence:
    if across > 0.0:
        return note("{mm} to the left", mm=_mm(across))
    return note("{mm} to the right", mm=_mm(-across))


def _once(places: Sequence[float]) -> list[float]:
    """Each as it is told, to a tenth of a millimetre."""
    return list({f"{1e3 * place:.1f}": place for place in places}.values())


def _mm(length: float) -> Amount:
    return amount(1e3 * length, "mm", 1)
