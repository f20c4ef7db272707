"""Where holes of a plate are, as a sentence: English is that of the drawing's own messages; other languages."""

import pytest

from meshes.plate.edges import Told
from sim.telling.language import spoken, told
from sim.telling.place_on_plate import place_note

PLACES = {
    "a pair": ((0.05, 0.05), (0.1315, -0.1315)),
    "bolts": ((0.0655, 0.3445), (0.0, 0.0)),
    "askew": ((0.05, 0.0512), (0.12, -0.13)),
    "both at one side": ((0.05, 0.05), (0.12, 0.13)),
    "one at the right": ((0.382,), (-0.0042,)),
    "one at the left": ((0.382,), (0.0042,)),
}


@pytest.mark.parametrize("place", PLACES.values(), ids=PLACES)
def test_english_is_that_of_messages_on_the_drawing(place: tuple[tuple[float, ...], tuple[float, ...]]) -> None:
    at = Told(*place, "found")
    assert place_note(at) == at.words


def test_it_is_told_in_the_readers_language_and_units() -> None:
    bolts = place_note(Told((0.0254, 0.3048), (-0.0254, -0.0254), "stated"))
    with spoken("de"):
        assert told(bolts) == "25,4 und 304,8 mm von der Oberkante, 25,4 mm rechts der Mittellinie"
    with spoken("en", "imperial"):
        assert told(bolts) == "1.00 and 12.00 in from the top edge, 1.00 in to the right of the middle line"
