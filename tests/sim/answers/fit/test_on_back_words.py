"""What is said of a rig on the back, with its numbers by hand: webbing is 5 cm wide (common practice)."""

from dataclasses import replace

import pytest

from scenarios.demos import demo_path
from sim.answers.fit.on_back import on_back
from sim.answers.fit.on_back_words import on_back_verdicts
from sim.case import Case


@pytest.fixture(scope="module")
def hung():
    """The small woman's rig, with lowest rib and hip bone 6 cm apart, at 20 and 14 cm."""
    worn = Case.read(demo_path("small-woman-steel")).worn
    return replace(on_back(worn), tenth_rib=0.20, crest=0.14)


def said(on, subject="waist strap"):
    return next(v for v in on_back_verdicts(on) if v.subject == subject)


@pytest.mark.parametrize(
    ("place", "middle", "words"),
    [
        ("above the waist", 0.205, "its upper 3.0 cm lie over the ribs"),
        ("above the waist", 0.23, "all the webbing lies over the ribs"),
        ("on the hips", 0.13, "its lower 3.5 cm lie over the hip bones, so that ashore"),
        ("on the hips", 0.11, "all the webbing lies over the hip bones"),
        ("on the waist", 0.17, "clears the hip bones by"),
        ("on the waist", 0.155, "its lower 1.0 cm lie over the hip bones"),
    ],
)
def test_how_much_of_the_webbing_lies_over_bones(hung, place, middle, words):
    found = said(replace(hung, place=place, waist_strap=middle))
    assert words in found.sentence
    assert found.sentence.startswith(f"runs {place}; ")
    assert found.passes is (place == "on the waist")


@pytest.mark.parametrize(
    ("top", "words"),
    [
        (0.50, "its top is 5.0 cm below the neck bone (C7) and 3.0 cm above the shoulders"),
        (0.56, "its top is 1.0 cm above the neck bone (C7) and 9.0 cm above the shoulders"),
        (0.474, "its top is 7.6 cm below the neck bone (C7) and level with the shoulders"),
        (0.45, "its top is 10.0 cm below the neck bone (C7) and 2.0 cm below the shoulders"),
    ],
)
def test_where_the_plates_top_is(hung, top, words):
    assert words in said(replace(hung, c7=0.55, acromion=0.47, top=top), "plate top").sentence
