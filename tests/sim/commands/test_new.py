import sys

import pytest

from scenarios.reading import read_scenario
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
        monkeypatch.setattr(sys.stdin, "isatty", lambda: True, raising=False)
        return questions

    return typing


def test_writes_a_scenario_that_can_be_read(tmp_path, capsys):
    out = tmp_path / "my diver.toml"
    assert main(["new", str(out), *GIVEN]) == 0
    diver = read_scenario(out).diver
    assert (diver.sex, diver.mass) == ("female", 58.0)
    assert diver.height == pytest.approx(65 * 0.0254, rel=1e-12)  # exact inch
    assert f'hangflat settle "{out}"' in capsys.readouterr().out
    assert "#" in out.read_text(encoding="utf-8")  # commented


def test_asks_for_what_is_not_given_and_asks_again(tmp_path, capsys, typed):
    out = tmp_path / "diver.toml"
    questions = typed("woman", "f", "166", "166 m", "166 cm", "58 kg")
    assert main(["new", str(out)]) == 0
    wanted = ["Sex,", "Sex,", "Height,", "Height,", "Height,", "Mass", "Body", "Do"]
    assert [q.split()[0] for q in questions] == wanted
    diver = read_scenario(out).diver
    assert diver.height == pytest.approx(1.66, rel=1e-12)
    assert (diver.body_fat, diver.trained) == (None, False)  # the input ended before these two
    complaints = capsys.readouterr().err
    assert "no unit" in complaints or "unit" in complaints


def test_body_fat_or_training_are_asked_for_and_either_may_be_left_out(tmp_path, capsys, typed):
    person = ["m", "180 cm", "80 kg"]
    for answers, fat, trained in (
        (["24", "1 %", "24 +- 3 %"], 0.24, False), (["", "perhaps", "Yes"], None, True), (["", ""], None, False),
    ):  # fmt: skip
        out = tmp_path / f"{len(answers)}{trained}.toml"
        questions = typed(*person, *answers)
        assert main(["new", str(out)]) == 0
        assert len(questions) == len(person) + len(answers)
        diver = read_scenario(out).diver
        assert (diver.body_fat, diver.trained) == (fat, trained)
    told = capsys.readouterr().err
    assert "between 3 % and 65 %" in told
    assert "yes or no" in told
    given = tmp_path / "given.toml"
    assert main(["new", str(given), *GIVEN, "--body-fat", "30 +- 2 %", "--trained"]) == 0
    diver = read_scenario(given).diver
    assert (diver.body_fat, diver.trained, diver.spreads["body_fat"]) == (0.30, True, 0.02)
    assert main(["new", str(given), *GIVEN, "--force", "--body-fat", "30 kg"]) == 2
    assert "--body-fat" in capsys.readouterr().err
    assert read_scenario(given).diver.body_fat == 0.30


def test_ending_the_input_stops_quietly_and_writes_nothing(tmp_path, typed):
    typed("female")
    assert main(["new", str(tmp_path / "diver.toml")]) == 130
    assert list(tmp_path.iterdir()) == []


def test_without_a_terminal_it_says_what_is_missing(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(sys.stdin, "isatty", lambda: False, raising=False)
    assert main(["new", str(tmp_path / "diver.toml"), "--sex", "male"]) == 2
    assert "--height is missing" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("wrong", "told"),
    [("--sex=woman", "female or male"), ("--height=166 m", "166 cm"), ("--mass=58", "unit")],
)
def test_a_wrong_value_is_one_message(tmp_path, capsys, wrong, told):
    assert main(["new", str(tmp_path / "d.toml"), wrong]) == 2
    assert told in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_overwrites_only_when_forced(tmp_path, capsys):
    out = tmp_path / "diver.toml"
    out.write_text("mine", encoding="utf-8")
    assert main(["new", str(out), *GIVEN]) == 2
    assert "--force" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == "mine"
    assert main(["new", str(out), *GIVEN, "--force"]) == 0
    assert read_scenario(out).diver.sex == "female"
