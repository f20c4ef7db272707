"""The whole answer, on one diver: what is told, how it is told, drawn and refused."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from math import radians

import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.seen.answer import SeenAnswer, seen_answer
from sim.answers.seen.causes import CAUSES
from sim.answers.seen.chart import draw_seen_chart
from sim.answers.seen.text import in_100, seen_text
from sim.answers.seen.typed import Outcome, Sight
from sim.case import Case
from sim.commands.main import main
from sim.telling.record import as_json, fields_of

NAME = "single-wetsuit"


@cache
def case() -> Case:
    return Case.read(demo_path(NAME))


@cache
def answer() -> SeenAnswer:
    """Seen once, and frozen."""
    return seen_answer(case(), [Sight(radians(20.0), "finning", "even")], (Outcome("freeze", way="stays"),))


def test_causes_are_ranked_with_probabilities_that_add_up() -> None:
    told = answer()
    assert [c.probability for c in told.causes] == sorted((c.probability for c in told.causes), reverse=True)
    assert sum(c.probability for c in told.causes) == pytest.approx(1.0)
    assert {c.name for c in told.causes} == set(CAUSES)
    gas = next(c for c in told.causes if c.name == "gas")
    assert gas.probability == gas.before == 0.0  # nobody has gas in a wetsuit
    assert any("cannot have" in note for note in told.notes)
    assert told.test is None or told.test.name not in ("freeze", "gas out")


def test_what_fits_no_cause_is_said_to_fit_none() -> None:
    assert answer().fits
    assert seen_text(replace(answer(), fits=False)).startswith("None of the causes known here fits")


def test_a_far_off_sight_is_said_to_be_right_after_the_first_sentence() -> None:
    assert (answer().far is None) == (answer().count >= 200.0)
    first, plain = seen_text(replace(answer(), far=None)).split("\n\n", 1)
    assert seen_text(replace(answer(), far="Few come near.")) == f"{first}\nFew come near.\n\n{plain}"


def test_what_the_file_explains_needs_no_cause_and_two_alike_are_said_to_be() -> None:
    told = replace(answer(), apart=False)
    assert seen_text(replace(told, explained=True)).startswith("What the file tells explains it by itself")
    assert seen_text(replace(told, explained=False)).startswith("This does not tell the causes apart")
    assert seen_text(replace(told, flat=True)).startswith("That is flat")


def test_it_is_told_in_lines_that_fit_and_ends_with_the_caution() -> None:
    told = answer()
    more = (*told.sights, Sight(radians(-10.0), "still", "up", pressure=6e6, depth=5.0, gaiters=False))
    lines = seen_text(replace(told, sights=more)).split("\n")
    assert max(map(len, lines)) <= 100
    assert lines[0].startswith("Most likely: " if told.apart else ("What the file tells", "This does not tell"))
    assert any("60 bar in the cylinders" in line for line in lines)
    assert lines[-1].endswith("plans no dive and no decompression.")


def test_json_is_plain_and_every_field_says_what_it_means() -> None:
    sights = (*answer().sights, Sight(0.0, "still", pressure=6e6))
    told = as_json(replace(answer(), sights=sights))
    assert json.loads(json.dumps(told, allow_nan=False)) == told
    assert told["sights"][0]["attitude_deg"] == pytest.approx(20.0)
    assert told["sights"][1]["pressure_bar"] == pytest.approx(60.0)
    assert {"causes[].probability", "test.if_it_is[].words", "sights[].fins"} <= {
        f.path for f in fields_of(SeenAnswer)
    }


@pytest.mark.parametrize("ending", [".png", ".svg"])
def test_the_chart_is_the_same_each_time(tmp_path, ending) -> None:
    one, other = (draw_seen_chart(answer(), case().assembled, tmp_path / f"{n}{ending}") for n in "ab")
    assert one.read_bytes() == other.read_bytes()
    assert len(one.read_bytes()) > 20_000


@pytest.mark.parametrize(
    ("sight", "outcome", "said"),
    [
        (Sight(0.1, "still", gaiters=True), None, "no drysuit"),
        (Sight(0.1, "still"), Outcome("gas out", way="stays"), "no drysuit"),
    ],
)
def test_what_this_diver_cannot_have_been_seen_with_is_refused(sight, outcome, said) -> None:
    with pytest.raises(ScenarioError, match=said):
        seen_answer(case(), [sight], [] if outcome is None else [outcome])


def test_a_parts_file_is_refused(tmp_path) -> None:
    path = tmp_path / "parts.toml"
    path.write_text(case().as_parts(), encoding="utf-8")
    with pytest.raises(ScenarioError, match="parts file"):
        seen_answer(Case.read(path), [Sight(0.1, "still")])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--attitude", "up a bit", "--while", "still"), "--attitude"),
        (("--attitude", "flat", "--while", "still", "--also", "flat"), "--also"),
        (("--attitude", "flat", "--while", "still", "--test", "freeze: maybe"), "--test"),
        (("--attitude", "flat", "--while", "still", "--test", "freeze: stays", "--test", "freeze: stays"), "twice"),
        (("--attitude", "flat", "--while", "swimming"), "while"),
    ],
)
def test_what_is_typed_amiss_is_said_in_one_line(capsys, words, said) -> None:
    assert main(["seen", str(demo_path(NAME)), *words]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert said in printed.err
    assert len(printed.err.strip().splitlines()) <= 2


@pytest.mark.parametrize(
    ("probability", "words"), [(0.004, "under 1 in 100"), (0.62, "62 in 100"), (0.999, "over 99 in 100")]
)
def test_probabilities_are_told_in_hundreds(probability, words) -> None:
    assert in_100(probability) == words
