"""What is doubtful is said, and what is in order is not."""

import pytest

from scenarios.notes import scenario_notes, settings_notes
from scenarios.reading import scenario_of
from scenarios.settings import setting_of

DIVER = {"sex": "female", "height": "166 cm", "mass": "58 kg"}
WORN = {
    "suit": "trilaminate",
    "plate": "standard steel",
    "harness": "one-piece webbing",
    "cylinders": {"catalogue": "twin steel 12 l 232 bar"},
    "wing": "twin",
}


def _notes(**tables):
    return scenario_notes(scenario_of({"diver": DIVER, **WORN, **tables}))


def test_nothing_is_said_of_what_is_in_order():
    assert _notes() == ()


SAID = {
    "overfilled": ({"cylinders": {**WORN["cylinders"], "pressure": "290 bar"}}, "filled to 290 bar, 25% above"),
    "single wing": ({"wing": "single"}, "A wing for a single cylinder is worn with a twin set"),
    "no plate": ({"plate": "none"}, "There are cylinders but no plate"),
    "no harness": ({"harness": "none"}, "There is a plate but no harness"),
    "no wing": ({"wing": "none"}, "There is no wing"),
    "no undergarment": ({"suit": {"catalogue": "trilaminate", "undergarment": "none"}}, "without an undergarment"),
    "wetsuit with twins": ({"suit": "wetsuit 5 mm"}, "A twin set with a wetsuit"),
    "unused softness": ({"suit": {"catalogue": "trilaminate", "softness": "300 Pa"}}, "are not used"),
    "overfull suit": (
        {"suit": {"catalogue": "trilaminate", "fill_law": "logistic", "free_room": "8 l", "gas": "9 l"}},
        "given 9 l of gas and has room for 8 l",
    ),
    "both at one side": (
        {"gear": [{"catalogue": "side-hung steel 7 l", "side": "right"}] * 2},
        "along the right flank",
    ),
    "little oxygen": ({"cylinders": {**WORN["cylinders"], "gas": "trimix 10/70"}}, "trimix 10/70 has 10% oxygen"),
    "salty lake": ({"water": {"kind": "fresh", "salinity": "20 g/kg"}}, 'The water is called "fresh"'),
    "stage": ({"gear": [{"catalogue": "stage steel 7 l", "pressure": "300 bar"}]}, "stage 7 l: filled to 300 bar"),
}


@pytest.mark.parametrize(("tables", "says"), SAID.values(), ids=SAID)
def test_what_is_doubtful_is_said_once(tables, says):
    notes = _notes(**tables)
    assert len(notes) == 1
    assert says in notes[0]


def test_a_warm_fill_a_little_over_is_left_alone():
    assert _notes(cylinders={**WORN["cylinders"], "pressure": "250 bar"}) == ()


def test_what_was_said_of_another_drawing_is_said_to_hold_still():
    document = {"plate": {"file": "one.dxf", "thickness": "3 mm", "unit": "mm", "bends": []}}
    (said,) = settings_notes(document, [setting_of("plate.file=two.dxf"), setting_of("plate.thickness=2 mm")])
    assert "unit = 'mm', bends = [] from the file still holds" in said
    assert "3 mm" not in said
    assert settings_notes(document, [setting_of("plate={}"), setting_of("plate.file=two.dxf")]) == ()
