"""Every fault names file, line and key, and says what to write; the whole text of the message is held here."""

import tomllib
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scenarios.checking import checked
from scenarios.errors import ScenarioError
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.reading import scenario_of

CASES = tomllib.loads((Path(__file__).parent / "refused.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_message(complaint, person, case):
    text = person + case["add"] if "add" in case else person.replace(case["old"], case["new"])
    assert text != person
    assert complaint(text) == case["says"]


def test_no_diver(complaint):
    assert complaint('[water]\nkind = "sea"\n') == "diver.toml: diver: this is missing; add a table [diver]"


def test_key_above_its_table(complaint, person):
    text = complaint('height = "166 cm"\n' + person)
    assert text.startswith("diver.toml:1: height: unknown key here; 'height' belongs to [diver]")


def test_ten_of_many_faults_are_listed_and_the_rest_counted(complaint, person):
    text = complaint(person + "".join(f'[[lead]]\nmass = "{n} l"\nplace = "belt"\n' for n in range(37)))
    heads = [line for line in text.split("\n") if line.startswith("diver.toml:")]
    assert [int(line.split(":")[1]) for line in heads] == [6 + 3 * n for n in range(10)]
    assert text.endswith("... and 27 more problems")


def test_a_misspelt_required_key_is_one_fault(complaint, person):
    assert complaint(person.replace("mass", "mas")).count("diver.toml:") == 1


def test_faults_in_thousands_of_entries_are_worded_but_not_all(complaint):
    text = complaint('format = "parts/1"\n[suit]\ncells = [' + '{at="x",most=1},' * 5000 + "]\n")
    assert len(text) < 5000
    assert "more problems" in text


@pytest.mark.parametrize("letter", ["\x1b", "\u202e", "\x07"])
def test_no_control_character_reaches_the_terminal(complaint, person, letter):
    text = complaint(person.replace("female", f"fe{letter}male"), name="x.toml")
    assert letter not in text


VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.sampled_from(["58 kg", "1 m", "neutral", "none", "x", ""]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["catalogue", "kind", "mass"]), inner)
    ),
    max_leaves=5,
)
KEYS = sorted({key for model in (Scenario, PartsFile) for key in model.model_fields})


@given(st.dictionaries(st.sampled_from([*KEYS, "other"]), VALUES, max_size=5))
def test_any_data_is_a_model_or_one_error(data):
    for read in (scenario_of, partial(checked, PartsFile, name="parts")):
        try:
            model = read(data)
        except ScenarioError:
            continue
        assert isinstance(model, Scenario | PartsFile)
