"""The command and its object, as far as they do not belong to one answer."""

import json

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main


def test_several_plates_are_a_list_in_the_order_asked_for(capsys):
    args = ["fit", str(demo_path("small-woman-steel")), "--json", "--plate", "small steel", "--plate", "small carbon"]
    assert main(args) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["format"] == "hangflat.fit/1"
    assert [p["plate"] for p in told["plates"]] == ["small steel", "small carbon"]
    assert "model, not a measurement" in told["caution"]
    # the same shape in a sheet 1 mm thinner lies in the same place to within that
    steel, carbon = (p["on_back"]["waist_strap_m"] for p in told["plates"])
    assert steel == pytest.approx(carbon, abs=1e-3)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--plate", "smal steel"], 'did you mean "small steel"'),
        (["--plate", "no-such.dxf"], "no-such.dxf"),
        (["--set", "plate=none"], "fit needs a plate"),
        (["--set", "fit.shoulder_bulk=90 deg"], "fit.shoulder_bulk"),
    ],
)
def test_bad_input_is_told(capsys, more, told):
    assert main(["fit", str(demo_path("small-woman-steel")), *more]) == 2
    assert told in capsys.readouterr().err
