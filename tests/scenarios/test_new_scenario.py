"""The first scenario reads back, and so does every line in it that is commented out."""

import re
import tomllib
from itertools import combinations, product

import pytest

from scenarios.catalogue import entries
from scenarios.errors import ScenarioError
from scenarios.new_scenario import NONE, NewScenario, is_dry, new_scenario_text
from scenarios.notes import scenario_notes
from scenarios.reading import scenario_of

PEOPLE = [("female", "166 cm", "58 kg"), ("male", "6 ft 3 in", "198 lb"), ("female", "5'5\"", "57 +- 0.5 kg")]


@pytest.mark.parametrize(("sex", "height", "mass"), PEOPLE)
def test_reads_back(sex, height, mass):
    text = new_scenario_text(NewScenario(sex, height, mass))
    document = tomllib.loads(text)
    assert document["diver"] | {"breathing_level": "mid-breath"} == {
        "sex": sex, "height": height, "mass": mass, "breathing_level": "mid-breath",
    }  # fmt: skip
    scenario = scenario_of(document)
    assert scenario_notes(scenario) == ()
    worn = (scenario.suit, scenario.plate, scenario.harness, scenario.cylinders, scenario.wing, scenario.fins)
    assert None not in worn


@pytest.mark.parametrize("suit", ["trilaminate", "wetsuit 5 mm", NONE])
def test_every_commented_line_can_be_used(suit):
    new = NewScenario("male", "190 cm", "90 kg", suit=suit, undergarment="heavy", lead="3 kg")
    lines = new_scenario_text(new).split("\n")
    used = [re.sub(r"^# (?=\[|\w+ = )", "", line) for line in lines]
    scenario = scenario_of(tomllib.loads("\n".join(used)))
    assert sum(a != b for a, b in zip(lines, used, strict=True)) > 15
    assert set(scenario.diver.measures) == {"waistcircumference", "chestcircumference", "crotchheight", "footlength"}
    assert len(scenario.gear) == 3
    assert scenario.plate.mass == 2.9
    assert scenario.cylinders.shift == -0.025
    assert scenario.suit.kind == "wet" or not scenario.suit.gaiters  # a remedy, which most divers do not wear
    assert [x.mass for x in scenario.lead] == [3.0]


def test_every_word_offered_in_a_comment_is_known():
    text = new_scenario_text(NewScenario("female", "166 cm", "58 kg", lead="2 kg"))
    for table, key, line in re.findall(r'^\[+(\w+)\]+(?:\n(?!\[).*)*?\n(\w+) = ".*?" +# or (.*)$', text, re.M):
        for word in re.findall(r'"([^"]+)"', line):
            document = tomllib.loads(text)
            entries = document[table] if isinstance(document[table], list) else [document[table]]
            entries[0][key] = word
            if table == "suit" and "wetsuit" in word:
                entries[0].clear()
                entries[0]["catalogue"] = word
            scenario_of(document)


def test_a_title_is_quoted():
    text = new_scenario_text(NewScenario("female", "166 cm", "58 kg", title='the "tall" one \\ Ä\n'))
    assert tomllib.loads(text)["title"] == 'the "tall" one \\ Ä\n'


@pytest.mark.parametrize(
    ("answers", "says"),
    [
        (("woman", "166 cm", "58 kg"), '"woman" is not known here; allowed: "female", "male"'),
        (("female", "166", "58 kg"), '"166" has no unit'),
        (("female", "166 cm", "58000 kg"), 'did you mean "58000 g"?'),
    ],
)
def test_refuses_what_cannot_be_read(answers, says):
    with pytest.raises(ScenarioError) as refused:
        new_scenario_text(NewScenario(*answers))
    assert says in str(refused.value)


def every_pair():
    """Files for all suits with all undergarments on all cylinders, one and two; plates, sexes and lead in turn."""
    suits = [
        (s, u) for s in (*entries("suit"), NONE) for u in (entries("undergarment") if is_dry(s) else ("medium",))
    ]
    backs = list(product(("one", "two"), entries("cylinders")))
    plates, people = list(entries("plate")), [("female", "5 ft 5 in", "58 kg"), ("male", "180 cm", "80 kg")]
    for i, (suit, under) in enumerate(suits):
        for j, (count, cylinders) in enumerate(backs):
            sex, height, mass = people[(i + j) % 2]
            lead = ("", "4.5 kg", "2 lb")[(i + j // 2) % 3]
            plate = plates[(i + j + j // 6) % 6]
            yield NewScenario(sex, height, mass, "", False, suit, under, count, cylinders, plate, lead)


def test_whatever_is_chosen_the_file_says_it_and_reads_without_a_note_but_of_the_choice():
    seen = set()
    for new in every_pair():
        scenario = scenario_of(tomllib.loads(new_scenario_text(new)))
        assert (scenario.suit.catalogue if scenario.suit else NONE) == new.suit
        assert not is_dry(new.suit) or scenario.suit.undergarment.catalogue == new.undergarment
        assert scenario.cylinders.catalogue == ("twin " if new.count == "two" else "") + new.cylinders
        assert (
            scenario.cylinders.arrangement == scenario.wing.cylinders == ("twin" if new.count == "two" else "single")
        )
        assert scenario.plate.catalogue == new.plate
        assert len(scenario.lead) == bool(new.lead)
        thin = new.count == "two" and new.suit.startswith("wetsuit")
        assert len(scenario_notes(scenario)) == thin  # no buoyancy but the wing's: told, as for any such diver
        told = {"sex": new.sex, "suit": new.suit, "count": new.count, "cylinders": new.cylinders, "plate": new.plate}
        seen |= set(combinations(told.items(), 2))
    sizes = {"sex": 2, "suit": 6, "count": 2, "cylinders": 13, "plate": 6}
    assert len(seen) == sum(a * b for a, b in combinations(sizes.values(), 2))  # every two answers came together


def test_who_is_invented_is_said_to_be_in_every_report():
    text = new_scenario_text(NewScenario("male", "180 cm", "80 kg", invented=("height", "mass")))
    assert tomllib.loads(text)["title"] == "invented height and mass"
    marked = [line.split(" = ")[0] for line in text.split("\n") if "invented: put in the diver's own" in line]
    assert marked == ["height", "mass"]
    assert "invented" not in new_scenario_text(NewScenario("male", "180 cm", "80 kg"))
