import contextlib
import io
import json

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main
from sim.telling.caution import CAUTION

CONTRACT = {
    "format": None,
    "water": {"density_kg_m3", "gravity_m_s2", "pressure_pa"},
    "whole": {"mass_kg", "volume_l", "net_buoyancy_kg", "wing_gas_l", "suit_gas_l", "cm_m", "cb_m"},
    "flat": {"pitch_moment_nm", "roll_moment_nm", "pitch_stiffness_nm_per_rad", "roll_stiffness_nm_per_rad"},
    "held": {"pitch_deg", "stable"},
    "rest": {"pitch_deg", "roll_deg", "up", "kind", "energy_j", "wing_gas_l", "net_buoyancy_kg"},
    "settled": {"pitch_deg", "roll_deg", "time_s", "reached", "roll"},
    "items": {"name", "kind", "mass_kg", "volume_l", "apparent_weight_kg", "arm_m", "moment_nm"},
    "estimated": None,
    "notes": None,
    "caution": None,
}


def answer(capsys, *words):
    """The one object on stdout, with nothing beside it."""
    assert main(list(map(str, words))) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return json.loads(out)


@pytest.fixture(scope="module", params=["held", "free"])
def told(request):
    """``settle --json`` of a demo, run once for each way of rolling; nothing beside the object on stdout."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert main(["settle", str(demo_path("small-woman-steel")), "--json", "--roll", request.param]) == 0
    found = json.loads(out.getvalue())
    assert found["settled"]["roll"] == request.param
    return found


@pytest.fixture
def unsettled(monkeypatch):
    """Leaves out the motion, which takes most of the time, where a test is not about it."""
    monkeypatch.setattr("sim.answers.settle.report.settle", lambda *_, **__: None)


def test_json_has_every_field_of_the_contract(told):
    assert told["format"] == "hangflat.settle/1"
    assert told["caution"] == CAUTION
    for name, fields in CONTRACT.items():
        assert name in told
        for row in told[name] if isinstance(told[name], list) else [told[name]]:
            assert fields is None or fields <= row.keys(), name


def test_items_add_up_to_the_whole(told):
    """Sums of some 40 numbers of up to 1000 N m, each with a rounding error of 1e-16 of its size."""
    assert sum(i["mass_kg"] for i in told["items"]) == pytest.approx(told["whole"]["mass_kg"], rel=1e-12)
    moment = sum(i["moment_nm"] for i in told["items"])
    assert moment == pytest.approx(told["flat"]["pitch_moment_nm"], abs=1e-9)


@pytest.mark.usefixtures("unsettled")
def test_json_gives_the_closed_form_answer(parts_file, capsys):
    found = answer(capsys, "settle", parts_file, "--json")
    assert found["settled"] is None
    assert found["flat"]["pitch_moment_nm"] == pytest.approx(50.0, rel=1e-12)  # arithmetic, rounding only
    assert found["whole"]["net_buoyancy_kg"] == pytest.approx(0.0, abs=1e-12)
    assert found["items"][0]["moment_nm"] == pytest.approx(50.0, rel=1e-12)
    stable = [e for e in found["rest"] if e["kind"] == "stable"]
    assert len(stable) == 1
    assert stable[0]["up"] == pytest.approx([1.0, 0.0, 0.0], abs=1e-6)


@pytest.mark.usefixtures("unsettled")
def test_set_changes_one_value(parts_file, capsys):
    found = answer(
        capsys, "settle", parts_file, "--json", "--set", "water.gravity=5 m/s^2", "--set", "part.0.mass=90 kg"
    )
    assert found["flat"]["pitch_moment_nm"] == pytest.approx(25.0, rel=1e-12)
    assert found["whole"]["net_buoyancy_kg"] == pytest.approx(10.0, rel=1e-12)


@pytest.mark.usefixtures("unsettled")
def test_text_starts_with_the_moment(parts_file, capsys):
    assert main(["settle", str(parts_file)]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("When you hold flat and stop moving you are turned head-up with 50.0 N m:\nlike 10.20 kg")
    assert err == ""


def test_why_adds_up_and_puts_the_largest_moment_first(parts_file, capsys):
    with parts_file.open("a", encoding="utf-8") as file:
        file.write(
            '[[part]]\nname = "lead"\nmass = "2 kg"\ncm = [1.0, 0.0, 0.0]\nvolume = "0 l"\ncb = [0.0, 0.0, 0.0]\n'
        )
        file.write(
            '[[part]]\nname = "foam"\nmass = "0 kg"\ncm = [0.0, 0.0, 0.0]\nvolume = "8 l"\ncb = [-1.0, 0.0, 0.0]\n'
        )
    found = answer(capsys, "why", parts_file, "--json", "--set", "depth.held=[0.0, 0.0, 0.0]")
    assert found["format"] == "hangflat.why/1"
    # 8 l of water 1 m footward: -80 N m; the float +50; 2 kg of lead 1 m headward: -20 N m
    assert [(i["name"], i["moment_nm"]) for i in found["items"]] == [
        ("foam", pytest.approx(-80.0, rel=1e-12)),
        ("float", pytest.approx(50.0, rel=1e-12)),
        ("lead", pytest.approx(-20.0, rel=1e-12)),
    ]
    assert found["flat"]["pitch_moment_nm"] == pytest.approx(-50.0, rel=1e-12)


def test_why_draws_a_chart(parts_file, tmp_path, capsys):
    chart = tmp_path / "why.svg"
    assert answer(capsys, "why", parts_file, "--json", "--chart", chart)["chart"] == {"file": str(chart)}
    assert "</svg>" in chart.read_text(encoding="utf-8")


@pytest.mark.parametrize("command", [["settle", "--picture"], ["why", "--chart"]])
def test_a_picture_that_cannot_be_written_is_told_before_the_work(command, parts_file, tmp_path, capsys, monkeypatch):
    def works(*_):
        pytest.fail("the work began")

    monkeypatch.setattr("sim.case.Case.read", works)
    monkeypatch.setattr("sim.answers.why.answer.why_answer", works)
    assert main([command[0], str(parts_file), command[1], str(tmp_path / "nowhere" / "a.png")]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "no folder" in err


def test_bad_input_leaves_no_picture(tmp_path, capsys):
    picture = tmp_path / "a.png"
    assert main(["settle", str(tmp_path / "nothing.toml"), "--picture", str(picture)]) == 2
    assert list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("unsettled")
def test_draws_the_picture_and_says_how(parts_file, tmp_path, capsys):
    picture = tmp_path / "float.svg"
    found = answer(capsys, "settle", parts_file, "--json", "--picture", picture)
    assert found["picture"]["file"] == str(picture)
    assert found["picture"]["drawn"].startswith("in flat shapes")  # as vector pictures are
    assert "</svg>" in picture.read_text(encoding="utf-8")


@pytest.mark.usefixtures("unsettled")
def test_a_picture_that_fails_leaves_nothing_behind(parts_file, tmp_path, capsys, monkeypatch):
    def fails(story, path, chosen):
        path.write_text("half", encoding="utf-8")
        raise RuntimeError("no ink")

    monkeypatch.setattr("sim.answers.settle.drawn.picture.draw_story", fails)
    assert main(["settle", str(parts_file), "--picture", str(tmp_path / "a.png")]) == 1
    assert "no ink" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == [parts_file]


def test_picture_is_drawn_though_nobody_reads_on(parts_file, tmp_path, monkeypatch, unsettled):
    """As in ``hangflat settle FILE --picture X | head -1``: the reader goes after the first words."""
    closed = io.TextIOWrapper(_Gone(), encoding="utf-8")
    monkeypatch.setattr("sys.stdout", closed)
    picture = tmp_path / "float.svg"
    main(["settle", str(parts_file), "--picture", str(picture)])
    assert picture.read_text(encoding="utf-8").rstrip().endswith("</svg>")
    monkeypatch.undo()


class _Gone(io.BytesIO):
    def write(self, _):
        raise BrokenPipeError


def test_the_text_says_what_the_moment_asks_of_the_diver(capsys):
    """In the words of posture, of a person; a parts file has no limbs to hold anything with."""
    from scenarios.demos import demo_path

    assert main(["settle", str(demo_path("small-woman-steel"))]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[2] == "It cannot be held by posture: whoever stops finning goes over."
