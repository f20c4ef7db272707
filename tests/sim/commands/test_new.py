import io
import json
import sys

import pytest

from scenarios.reading import read_scenario
from sim.answers.fit.answer import failing
from sim.case import Case
from sim.commands.main import main

GIVEN = ["--sex", "female", "--height", "5 ft 5 in", "--mass", "58 kg"]


@pytest.fixture
def typed(monkeypatch):
    """What the user types, one answer after the other; the questions asked."""

    def typing(*answers):
        waiting, questions = list(answers), []

        def answered(question):
            questions.append(question)
            if not waiting:
                raise EOFError
            return waiting.pop(0)

        monkeypatch.setattr("builtins.input", answered)
        terminal = io.StringIO()
        terminal.isatty = lambda: True
        monkeypatch.setattr(sys, "stdin", terminal)
        return questions

    return typing


@pytest.fixture
def piped(monkeypatch):
    """What comes from a pipe."""

    def sending(text):
        monkeypatch.setattr(sys, "stdin", io.StringIO(text))
        return []

    return sending


def test_writes_a_scenario_that_can_be_read(tmp_path, capsys):
    out = tmp_path / "my diver.toml"
    assert main(["new", str(out), *GIVEN]) == 0
    diver = read_scenario(out).diver
    assert (diver.sex, diver.mass) == ("female", 58.0)
    assert diver.height == pytest.approx(65 * 0.0254, rel=1e-12)  # exact inch
    assert f'hangflat settle "{out}"' in capsys.readouterr().out
    assert "#" in out.read_text(encoding="utf-8")  # commented


def test_asks_for_person_and_gear_and_asks_again(tmp_path, capsys, typed):
    out = tmp_path / "diver.toml"
    questions = typed(
        "woman", "f", "166", "166 m", "166 cm", "58 kg", "1 %", "24 +- 3 %", "steel", "wet 5", "three", "1",
        "steel 12", "steel 12 l 232 bar", "small alu", "no lead", "3 kg",
    )  # fmt: skip
    assert main(["new", str(out)]) == 0
    assert [q.split()[0] for q in questions] == [
        "Sex,", "Sex,", "Height", "Height", "Height", "Mass", "Body", "Body", "Suit", "Suit", "Cylinders",
        "Cylinders", "Which", "Which", "Plate", "Lead", "Lead",
    ]  # fmt: skip
    scenario = read_scenario(out)
    assert (scenario.diver.height, scenario.diver.mass, scenario.diver.body_fat) == (1.66, 58.0, 0.24)
    worn = (scenario.suit, scenario.cylinders, scenario.plate)
    assert [t.catalogue for t in worn] == ["wetsuit 5 mm", "steel 12 l 232 bar", "small aluminium"]
    assert [(lead.mass, lead.place) for lead in scenario.lead] == [(3.0, "belt")]
    assert scenario.title is None  # nothing is invented
    complaints = capsys.readouterr().err
    for said in ("no unit", "between 3 % and 65 %", "one or two", "steel 12 l 232 bar short", "trilaminate, "):
        assert said in complaints


@pytest.mark.parametrize("way", ["typed", "piped"])
def test_a_bare_enter_is_always_a_good_answer_and_shows_what_it_means(tmp_path, capsys, typed, piped, way):
    out = tmp_path / "diver.toml"
    questions = typed(*[""] * 11) if way == "typed" else piped("")
    assert main(["new", str(out)]) == 0
    printed = capsys.readouterr().out
    for usual in ("[female, invented]", "[166 cm, invented]", "[58 kg, invented]", "[not known]", "[no]",
                  "[trilaminate]", "[medium]", "[two]", "[steel 8.5 l 232 bar]", "[small steel]"):  # fmt: skip
        assert usual in " ".join(questions if way == "typed" else [printed])
    assert "sex, height, mass invented" in printed
    scenario = read_scenario(out)
    assert scenario.title == "invented height and mass"
    assert (scenario.suit.catalogue, scenario.suit.undergarment.catalogue) == ("trilaminate", "medium")


def test_the_invented_diver_is_given_a_plate_that_fits_and_lead_to_take_off(tmp_path, piped):
    """The demo of the plate that is too long for a woman of that size is no set-up to begin with; nor is a diver who
    sinks at the last stop without any lead (common practice)."""
    out = tmp_path / "diver.toml"
    piped("")
    assert main(["new", str(out)]) == 0
    assert failing(Case.read(out).assembled) == ()
    scenario = read_scenario(out)
    assert len(scenario.lead) == 1
    assert not scenario.suit.gaiters  # a remedy for light feet, which most do not wear


@pytest.mark.parametrize(
    ("sex", "height", "mass", "gear", "plate"),
    [
        # means of ANSUR II, whose backs are 478 and 425 mm long, and people with the other's back
        ("male", "175.6 cm", "85.5 kg", ["--count", "1"], "standard steel"),
        ("female", "162.8 cm", "67.8 kg", ["--count", "1"], "small steel"),
        ("male", "155 cm", "55 kg", ["--count", "1"], "small steel"),
        ("female", "190 cm", "80 kg", ["--count", "1"], "standard steel"),
        # two full steel cylinders and nothing that floats: sinks with any plate, least with a light one
        ("male", "175.6 cm", "85.5 kg", ["--suit", "none"], "standard aluminium"),
        ("female", "162.8 cm", "67.8 kg", ["--plate", "standard carbon"], "standard carbon"),
    ],
)
def test_the_plate_goes_by_the_back_and_by_what_would_sink_without_lead(tmp_path, sex, height, mass, gear, plate):
    out = tmp_path / "diver.toml"
    assert main(["new", str(out), "--sex", sex, "--height", height, "--mass", mass, *gear]) == 0
    assert read_scenario(out).plate.catalogue == plate


def test_who_is_invented_goes_by_what_was_answered(tmp_path, typed):
    """A man of 190 cm is not given the mass of one of 166 cm: the body-mass index stays."""
    out = tmp_path / "diver.toml"
    questions = typed("m", "190 cm", *[""] * 9)
    assert main(["new", str(out)]) == 0
    assert "[89 kg, invented]" in questions[2]  # 24.7 x 1.9^2 = 89.2
    scenario = read_scenario(out)
    assert (scenario.diver.mass, scenario.title) == (89.0, "invented mass")


def test_body_fat_or_training_are_asked_for_and_either_may_be_left_out(tmp_path, capsys, typed):
    person, gear = ["m", "180 cm", "80 kg"], ["none", "", "", "", "none"]
    for answers, fat, trained in ((["24 +- 3 %"], 0.24, False), (["", "perhaps", "Yes"], None, True)):
        out = tmp_path / f"{trained}.toml"
        questions = typed(*person, *answers, *gear)
        assert main(["new", str(out)]) == 0
        assert len(questions) == len(person) + len(answers) + len(gear)
        diver = read_scenario(out).diver
        assert (diver.body_fat, diver.trained) == (fat, trained)
    assert "yes or no" in capsys.readouterr().err
    given = tmp_path / "given.toml"
    words = ["new", str(given), *GIVEN, "--lead", "none"]
    assert main([*words, "--body-fat", "30 +- 2 %", "--trained"]) == 0
    diver = read_scenario(given).diver
    assert (diver.body_fat, diver.trained, diver.spreads["body_fat"]) == (0.30, True, 0.02)
    assert main([*words, "--force", "--body-fat", "30 kg"]) == 2
    assert "--body-fat" in capsys.readouterr().err
    assert read_scenario(given).diver.body_fat == 0.30


def test_ending_the_input_at_a_terminal_stops_quietly_and_writes_nothing(tmp_path, typed):
    typed("female")
    assert main(["new", str(tmp_path / "diver.toml")]) == 130
    assert list(tmp_path.iterdir()) == []


def test_answers_come_from_a_pipe_and_where_they_end_the_rest_is_as_usual(tmp_path, capsys, piped):
    out = tmp_path / "diver.toml"
    piped("m\n180 cm\n80 kg\n\nyes\ncrushed\nthin\n1")
    assert main(["new", str(out)]) == 0
    scenario = read_scenario(out)
    assert (scenario.diver.sex, scenario.diver.trained) == ("male", True)
    assert (scenario.suit.catalogue, scenario.suit.undergarment.catalogue) == ("crushed neoprene", "thin")
    assert scenario.cylinders.catalogue == "steel 12 l 232 bar"  # what is usual alone
    printed = capsys.readouterr().out
    assert "[no]: yes\n" in printed  # so that answers that got out of step are seen


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ("m\n180 cm\n80\n", 'answer 3, mass: "80" has no unit'),
        ("m\n\n\n\n\nwool\n", 'answer 6, suit: "wool" is not known here'),
        ("x" * 5000, "answer 1 is longer than"),
        ("\0\n", "answer 1, sex"),
    ],
)
def test_a_wrong_answer_from_a_pipe_ends_it_in_one_line(tmp_path, capsys, piped, answers, said):
    piped(answers)
    assert main(["new", str(tmp_path / "diver.toml")]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert told.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "answers",
    [
        ["f", "", "", "", "", "none", "2", "steel 15 l 300"],
        ["m", "", "", "", "", "tri", "heavy", "1", "alu 5", "small c"],
    ],
    ids=["heaviest", "lightest"],
)
def test_with_all_else_as_usual_the_diver_can_be_neutral(tmp_path, capsys, piped, monkeypatch, answers):
    """Also the heaviest and the lightest that can be chosen, full as written and as they were weighed."""
    monkeypatch.setattr("sim.answers.settle.report.settle", lambda *_, **__: None)
    out = tmp_path / "diver.toml"
    piped("\n".join(answers))
    assert main(["new", str(out)]) == 0
    scenario = read_scenario(out)
    for settings in ((), ("--set=cylinders.pressure=50 bar", "--set=water.depth=4 m")):
        capsys.readouterr()
        assert main(["settle", str(out), "--json", *settings]) == 0
        whole = json.loads(capsys.readouterr().out)["whole"]
        assert whole["net_buoyancy_kg"] == pytest.approx(0.0, abs=1e-3)
        assert 0.0 <= whole["wing_gas_l"] <= 1e3 * scenario.wing.capacity
    if scenario.lead:
        assert whole["wing_gas_l"] <= 0.5 + 0.05  # the step that lead comes in, and the belt's own shift of the depth


def test_a_pipe_that_holds_no_text_is_refused(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"\xff\xfe\n"), encoding="utf-8"))
    assert main(["new", str(tmp_path / "diver.toml")]) == 2
    assert "no text" in capsys.readouterr().err


def test_what_is_given_as_options_is_not_asked_for(tmp_path, typed):
    questions = typed("58 kg")
    out = tmp_path / "diver.toml"
    words = ["--sex", "female", "--height", "166 cm", "--suit", "wetsuit 7 mm", "--count", "1", "--lead", "8 kg"]
    assert main(["new", str(out), *words]) == 0
    assert [q.split()[0] for q in questions] == ["Mass"]
    scenario = read_scenario(out)
    assert (scenario.suit.catalogue, scenario.lead[0].mass) == ("wetsuit 7 mm", 8.0)


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (["--sex=woman"], "female or male"), (["--height=166 m"], "166 cm"), (["--mass=58"], "unit"),
        (["--suit=wool"], "--suit"), (["--count=3"], "one or two"), (["--lead=3"], "unit"),
        (["--suit=wetsuit 5 mm", "--undergarment=thin"], "under a drysuit"),
    ],
)  # fmt: skip
def test_a_wrong_value_is_one_message_before_anything_is_asked(tmp_path, capsys, typed, wrong, told):
    questions = typed()
    assert main(["new", str(tmp_path / "d.toml"), *wrong]) == 2
    assert told in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
    assert questions == []


def test_overwrites_only_when_forced(tmp_path, capsys):
    out = tmp_path / "diver.toml"
    out.write_text("mine", encoding="utf-8")
    assert main(["new", str(out), *GIVEN]) == 2
    assert "--force" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == "mine"
    assert main(["new", str(out), *GIVEN, "--force"]) == 0
    assert read_scenario(out).diver.sex == "female"
