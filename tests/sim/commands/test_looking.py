"""Options of a picture: what cannot be is refused before anything is worked out, and nothing is left behind."""

import pytest
from PIL import Image

from scenarios.demos import demo_path
from sim.commands.main import main

DEMO = str(demo_path("small-woman-steel"))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--view", "top"], "give --picture FILE"),
        (["--transparent"], "give --picture FILE"),
        (["--beside", DEMO], "give --picture FILE"),
        (["--picture", "a.png", "--layers", "arrows,shoes"], "got 'shoes'"),
        (["--picture", "a.png", "--size", "100x100"], "320 to 8000 pixels"),
        (["--picture", "a.png", "--size", "big"], "320 to 8000 pixels"),
        (["--picture", "a.png", "--surface", "--view", "top"], "leave it out with --surface"),
        (["--picture", "a.png", "--layers", "fit", "--set", "plate=none"], "need a person with a plate"),
        (["--picture", "a.png", *4 * ["--beside", DEMO]], "up to 3 times, got 4"),
    ],
)
def test_what_cannot_be_is_refused(words, said, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(["settle", DEMO, *words]) == 2
    told = capsys.readouterr()
    assert said in told.err
    assert told.err.count("\n") == 1
    assert told.out == ""
    assert list(tmp_path.iterdir()) == []


def test_a_picture_is_as_large_as_asked_and_its_file_is_named(capsys, tmp_path, monkeypatch):
    monkeypatch.setenv("HANGFLAT_FLAT_PICTURES", "1")
    monkeypatch.setattr("sim.answers.settle.drawn.painting.FINENESS", 5.0)  # coarse: the shapes are not looked at
    target = tmp_path / "a.png"
    words = ["--picture", str(target), "--size", "640x400", "--view", "front", "--layers", "none", "--style", "dark"]
    assert main(["settle", DEMO, *words]) == 0
    assert f"Picture: {target} (in flat shapes" in capsys.readouterr().out
    with Image.open(target) as picture:
        assert picture.size == (640, 400)
