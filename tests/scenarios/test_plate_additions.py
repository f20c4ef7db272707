"""Places of another thickness, and what is fixed to a plate, as they are written."""

import pytest

from scenarios.errors import ScenarioError
from scenarios.models import Scenario
from scenarios.reading import scenario_of

DIVER = {"sex": "female", "height": "166 cm", "mass": "58 kg"}
WEIGHT = {"name": "weight", "mass": "1 kg", "size": ["80 mm", "50 mm", "25 mm"], "from_top": "290 mm"}
ZONE = {"thickness": "6 mm", "top": "40 mm", "bottom": "90 mm", "outer": "25 mm"}


def _scenario(**keys: object) -> Scenario:
    return scenario_of({"diver": DIVER, "plate": {"catalogue": "small steel", **keys}})


def test_both_are_read_in_si_and_left_out_by_default() -> None:
    plate = _scenario(zones=[ZONE], added=[WEIGHT]).plate
    assert plate is not None
    assert plate.zones[0].model_dump() == {
        "thickness": 0.006, "top": 0.04, "bottom": 0.09, "inner": 0.0, "outer": 0.025,
    }  # fmt: skip
    assert plate.added[0].size == (0.08, 0.05, 0.025)
    assert plate.added[0].weight == 1.0
    bare = _scenario().plate
    assert bare is not None
    assert (bare.zones, bare.added) == ((), ())


def test_a_density_or_a_material_makes_the_mass() -> None:
    lead = {**WEIGHT, "density": "11340 kg/m^3"}
    del lead["mass"]
    pad = {**lead, "material": "polyethylene HD"}
    del pad["density"]
    plate = _scenario(added=[lead, pad]).plate
    assert plate is not None
    assert [one.weight for one in plate.added] == pytest.approx([1.134, 0.0955], rel=1e-12)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"added": [{**WEIGHT, "density": "60 kg/m^3"}]}, "give one of mass, density and.*got mass and density"),
        ({"added": [{k: v for k, v in WEIGHT.items() if k != "mass"}]}, "got none of them"),
        ({"added": [{**WEIGHT, "mass": "14 kg"}]}, r"1.4e\+05 kg/m\^3, not between 5 and 25000; check both"),
        ({"added": [{**WEIGHT, "both_sides": True}]}, "both_sides makes two of it"),
        ({"added": [{**WEIGHT, "from_top": "3 m"}]}, r"plate.added.0.from_top.*is not believable"),
        ({"added": [WEIGHT] * 21}, "plate.added"),
        ({"zones": [{**ZONE, "bottom": "30 mm"}]}, "bottom, 30 mm, must lie further from the top edge than top"),
        ({"zones": [{**ZONE, "inner": "30 mm"}]}, "outer, 25 mm, must lie further from the middle line than inner"),
        ({"zones": [{**ZONE, "thickness": "6 cm"}]}, "plate.zones.0.thickness"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_its_place(keys: dict[str, object], words: str) -> None:
    with pytest.raises(ScenarioError, match=words):
        _scenario(**keys)
