"""Lines of text: where they may break, and how thick a sheet is told to be."""

from sim.telling.drawn_plate import thickness_in_words
from sim.telling.language import number, quantity, spoken
from sim.telling.words import WIDTH, wrapped


def test_no_line_begins_with_a_sign_that_french_sets_apart():
    for before in range(WIDTH - 12, WIDTH + 2):
        for sign in ":;?!":
            lines = wrapped("x" * before + f" seul {sign} après « elle » non")
            assert not [line for line in lines if line.lstrip()[:1] in {*":;?!»"} or line.endswith("«")]
            assert " ".join(lines) == "x" * before + f" seul {sign} après « elle » non"


def test_a_sheet_of_an_eighth_of_an_inch_is_told_as_such():
    with spoken("en", "imperial"):
        assert thickness_in_words(0.125 * 0.0254) == "0.125 in"
    assert thickness_in_words(3.2e-3) == "3.2 mm"


def test_what_rounds_to_nothing_has_no_minus():
    assert quantity(-0.004, "kg", 1) == "0.0 kg"
    assert quantity(-0.04, "N m", 1, sign=True) == number(-0.04, 1, sign=True) + " N m" == "+0.0 N m"
    assert quantity(-0.06, "kg", 1) == "-0.1 kg"
