"""The bench says what the commands say of the same file, to the last digits."""

from __future__ import annotations

import json
import tomllib

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main
from sim.page.answers import answered
from sim.page.background import worked_out

DEMOS = (
    "calibrated-diver", "loose-legs", "rebreather", "side-hung", "single-wetsuit", "small-woman-carbon",
    "small-woman-steel", "tall-man-carbon", "tall-man-steel",
)  # fmt: skip
CLOSE = 1e-9  # relative and absolute: the same arithmetic on the same numbers, read from tables instead of a file


def numbers(told, path=""):
    """Every number of an answer by its path; what made the answer and the pictures left out."""
    if isinstance(told, dict):
        for key, inner in told.items():
            if key != "made_by":
                yield from numbers(inner, f"{path}.{key}")
    elif isinstance(told, list | tuple):
        for number, inner in enumerate(told):
            yield from numbers(inner, f"{path}.{number}")
    elif isinstance(told, int | float) and not isinstance(told, bool):
        yield path, float(told)


@pytest.fixture(scope="module", params=DEMOS)
def demo(request):
    """A demo: its place, its tables as the page holds them, and how a command answers on it."""
    place = demo_path(request.param)
    return place, tomllib.loads(place.read_text(encoding="utf-8"))


@pytest.fixture
def command(demo, capsys):
    def run(name):
        assert main([name, str(demo[0]), "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    return run


def test_every_demo_is_one_of_these():
    there = {p.stem for p in demo_path(DEMOS[0]).parent.glob("*.toml")}
    assert there - {n for n in there if n.endswith(("-known", "-measured"))} == set(DEMOS)


def test_settle(demo, command):
    place, document = demo
    told, settled = answered("flat", document, str(place)), command("settle")
    assert told["moment"] == pytest.approx(settled["flat"]["pitch_moment_nm"], rel=CLOSE, abs=CLOSE)
    assert told["stiffness"] == pytest.approx(settled["flat"]["pitch_stiffness_nm_per_rad"], rel=CLOSE, abs=CLOSE)
    moments = {i["name"]: i["moment_nm"] for i in settled["items"]}
    assert told["items"]
    for item in told["items"]:
        assert item["moment"] == pytest.approx(moments[item["name"]], rel=CLOSE, abs=CLOSE)


def test_the_motion(document, capsys):
    place = demo_path("small-woman-steel")
    freeze = dict(answered("let go", document, str(place))["freeze"])
    assert main(["settle", str(place), "--json"]) == 0
    assert f"after {json.loads(capsys.readouterr().out)['settled']['time_s']:.0f} s" in freeze


def test_fit(demo, command):
    place, document = demo
    if "plate" not in document:
        assert answered("fit", document, str(place))["why"]
        return
    told, found = answered("fit", document, str(place)), command("fit")["plates"][0]
    assert [(v["subject"], v["passes"], v["sentence"]) for v in told["verdicts"]] == [
        (v["subject"], v["passes"], v["sentence"]) for v in found["verdicts"]
    ]
    ours, theirs = dict(numbers(told["answer"])), dict(numbers(found))
    assert len(ours) > 50
    assert ours == pytest.approx({path: theirs[path] for path in ours}, rel=CLOSE, abs=CLOSE)


def test_weigh(demo, command):
    place, document = demo
    told = worked_out("weighing", document, str(place), {})
    assert dict(numbers(told["answer"])) == pytest.approx(dict(numbers(command("weigh"))), rel=CLOSE, abs=CLOSE)
