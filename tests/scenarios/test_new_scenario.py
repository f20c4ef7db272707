"""The first scenario reads back, and so does every line in it that is commented out."""

import re
import tomllib

import pytest

from scenarios.errors import ScenarioError
from scenarios.new_scenario import new_scenario_text
from scenarios.notes import scenario_notes
from scenarios.reading import scenario_of

PEOPLE = [("female", "166 cm", "58 kg"), ("male", "6 ft 3 in", "198 lb"), ("female", "5'5\"", "57 +- 0.5 kg")]


@pytest.mark.parametrize(("sex", "height", "mass"), PEOPLE)
def test_reads_back(sex, height, mass):
    text = new_scenario_text(sex, height, mass)
    document = tomllib.loads(text)
    assert document["diver"] | {"breathing_level": "mid-breath"} == {
        "sex": sex, "height": height, "mass": mass, "breathing_level": "mid-breath",
    }  # fmt: skip
    scenario = scenario_of(document)
    assert scenario_notes(scenario) == ()
    worn = (scenario.suit, scenario.plate, scenario.harness, scenario.cylinders, scenario.wing, scenario.fins)
    assert None not in worn


def test_every_commented_line_can_be_used():
    lines = new_scenario_text("male", "190 cm", "90 kg").split("\n")
    used = [re.sub(r"^# (?=\[|\w+ = )", "", line) for line in lines]
    scenario = scenario_of(tomllib.loads("\n".join(used)))
    assert sum(a != b for a, b in zip(lines, used, strict=True)) > 15
    assert set(scenario.diver.measures) == {"waistcircumference", "chestcircumference", "crotchheight", "footlength"}
    assert len(scenario.gear) == 3
    assert scenario.plate.mass == 2.9
    assert scenario.cylinders.shift == -0.025
    assert scenario.suit.gaiters


def test_every_word_offered_in_a_comment_is_known():
    text = new_scenario_text("female", "166 cm", "58 kg")
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
    text = new_scenario_text("female", "166 cm", "58 kg", title='the "tall" one \\ Ä\n')
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
        new_scenario_text(*answers)
    assert says in str(refused.value)
