"""The scenario's tables: defaults, what must agree, and that every model can be written out and read back."""

import json
import subprocess
import sys

import pytest
from pydantic import ValidationError

from scenarios.demos import demo_names, demo_path
from scenarios.errors import ScenarioError
from scenarios.field_guide import tables_in
from scenarios.joint_names import joint_ranges
from scenarios.measure_names import measures
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.pose import Pose, PoseName
from scenarios.reading import read_scenario, scenario_of
from scenarios.suit import DrySuit, Wetsuit
from scenarios.table import all_spreads, quantity_of
from scenarios.water import Water

STEEL = "steel 12 l 232 bar"
DIVER = {"sex": "female", "height": "166 cm", "mass": "58 kg"}


def _scenario(**tables) -> Scenario:
    return scenario_of({"diver": DIVER, **tables})


def _refused(**tables) -> str:
    with pytest.raises(ScenarioError) as refused:
        _scenario(**tables)
    return str(refused.value)


def test_a_person_alone_is_a_scenario_in_the_sea_without_gear():
    scenario = _scenario()
    assert scenario.diver.height == 1.66
    assert scenario.water == Water()
    assert (scenario.water.temperature, scenario.water.depth, scenario.water.salinity_or_usual) == (
        283.15,
        10.0,
        35.0,
    )
    gear = (scenario.suit, scenario.plate, scenario.harness, scenario.cylinders, scenario.wing, scenario.fins)
    assert gear == (None,) * 6
    assert scenario.lead == scenario.gear == ()
    assert scenario.pose.name == "flat, knees bent"


def test_models_cannot_be_changed():
    with pytest.raises(ValidationError):
        _scenario().diver.mass = 80.0


def test_a_bare_name_a_table_and_a_table_with_more_are_the_same_entry():
    bare = _scenario(plate="small carbon").plate
    assert bare == _scenario(plate={"catalogue": "small carbon"}).plate
    changed = _scenario(plate={"catalogue": "small carbon", "thickness": "3 mm"}).plate
    assert changed == bare.model_copy(update={"thickness": 0.003})


@pytest.mark.parametrize("section", ["suit", "plate", "harness", "cylinders", "wing", "fins", "lead", "gear"])
def test_none_is_not_worn(section):
    assert not getattr(_scenario(**{section: "none"}), section)


def test_twin_before_a_cylinders_name():
    twin = _scenario(cylinders="twin steel 12 l 232 bar").cylinders
    single = _scenario(cylinders="steel 12 l 232 bar").cylinders
    assert (twin.count, single.count) == (2, 1)
    assert (twin.regulators.first_stages, single.regulators.first_stages) == (2, 1)
    assert twin.water_capacity == single.water_capacity == 0.012
    assert twin.fill == twin.working_pressure == 232e5


def test_one_way_of_saying_a_thing_takes_the_place_of_the_entrys_other():
    cylinders = _scenario(
        cylinders={"catalogue": "aluminium 11.1 l 207 bar", "free_gas": "80 cu ft at 3000 psi"}
    ).cylinders
    assert cylinders.water_capacity is None
    # 80 cubic feet of 0.3048^3 m^3; 3000 psi of 6894.757 Pa
    assert cylinders.free_gas.volume == pytest.approx(80 * 0.3048**3, rel=1e-15)
    assert cylinders.free_gas.pressure == pytest.approx(3000 * 6894.757293168, rel=1e-12)
    assert _scenario(fins={"catalogue": "rubber", "each_mass": "1 kg"}).fins.mass_of_one == 1.0
    assert _scenario(fins="rubber").fins.mass_of_one == 1.4
    mask = _scenario(gear=[{"catalogue": "mask", "volume": "0.2 l", "at": [0.6, 0, -0.1]}]).gear[0]
    assert (mask.displaced, mask.density, mask.place, mask.at) == (2e-4, None, None, (0.6, 0.0, -0.1))


def test_an_undergarment_by_name_changed_in_one_key():
    suit = _scenario(suit={"catalogue": "trilaminate", "undergarment": {"loft": "9 mm"}}).suit
    medium = _scenario(suit="trilaminate").suit.undergarment
    assert suit.undergarment == medium.model_copy(update={"loft": 0.009})
    assert _scenario(suit={"catalogue": "trilaminate", "undergarment": "none"}).suit.undergarment is None


def test_wet_and_dry_are_told_apart():
    assert isinstance(_scenario(suit="wetsuit 7 mm").suit, Wetsuit)
    assert isinstance(_scenario(suit="crushed neoprene").suit, DrySuit)


@pytest.mark.parametrize(
    ("text", "shares"),
    [
        ("air", (0.20946, 0.0)),
        ("Nitrox 32", (0.32, 0.0)),
        ("EAN36", (0.36, 0.0)),
        ("nitrox 50 %", (0.5, 0.0)),
        ("trimix 18/45", (0.18, 0.45)),
        ("tx 10 / 70", (0.10, 0.70)),
        ("oxygen", (1.0, 0.0)),
        ({"name": "mine", "oxygen": 0.25, "helium": 0.25}, (0.25, 0.25)),
    ],
)
def test_gases(text, shares):
    gas = _scenario(cylinders={"catalogue": STEEL, "gas": text}).cylinders.gas
    assert (gas.oxygen, gas.helium) == shares


BAD = {
    "very thin": ({"diver": {**DIVER, "mass": "36 kg"}}, "body-mass index of 13; 14 to 60"),
    "fat and density": ({"diver": {**DIVER, "body_fat": "20 %", "body_density": "1050 kg/m3"}}, "give one of them"),
    "same measure twice": (
        {"diver": {**DIVER, "measures": {"waist_girth": "72 cm", "waist circumference": "72 cm"}}},
        '"waist girth" is given twice',
    ),
    "density and salinity": (
        {"water": {"density": "1 kg/l", "salinity": "35 g/kg"}},
        "density and salinity are both",
    ),
    "gravity and latitude": (
        {"water": {"gravity": "9.8 m/s2", "latitude": "50 deg"}},
        "gravity and latitude are both",
    ),
    "no size": (
        {"cylinders": {"material": "steel", "working_pressure": "232 bar", "outer_diameter": "171 mm"}},
        "the size is missing",
    ),
    "two sizes": (
        {"cylinders": {"catalogue": STEEL, "water_capacity": "12 l", "free_gas": "80 cu ft"}},
        "the size is given twice",
    ),
    "spacing of one": ({"cylinders": {"catalogue": STEEL, "spacing": "185 mm"}}, "one is worn"),
    "spacing too small": (
        {"cylinders": {"catalogue": "twin steel 12 l 232 bar", "spacing": "160 mm"}},
        "spacing 160 mm is less than the outer diameter 171 mm",
    ),
    "unknown gas": ({"cylinders": {"catalogue": STEEL, "gas": "argon"}}, '"argon" is no gas known here'),
    "gas over 100 %": ({"cylinders": {"catalogue": STEEL, "gas": "trimix 60/50"}}, "more than the whole"),
    "capacity with a pressure": (
        {"cylinders": {"catalogue": STEEL, "water_capacity": "12 l at 232 bar"}},
        "is free gas at a pressure, not water capacity",
    ),
    "wing too small": ({"wing": {"catalogue": "single", "gas": "16 l"}}, "more than the wing's capacity of 15 l"),
    "wing word": ({"wing": {"catalogue": "single", "gas": "nuetral"}}, 'write "neutral" or a volume like "4 l"'),
    "plate of nothing": (
        {"plate": {"material": "aluminium", "thickness": "3 mm"}},
        "name a catalogue entry or a file",
    ),
    "plate without thickness": ({"plate": {"material": "aluminium"}}, "thickness is missing"),
    "plate unit without file": ({"plate": {"catalogue": "small carbon", "unit": "mm"}}, "unit belongs to a drawing"),
    "plate file of another kind": ({"plate": {"catalogue": "small carbon", "file": "p.pdf"}}, "no drawing read here"),
    "plate file of a length": (
        {"plate": {"catalogue": "small carbon", "file": "p.dxf", "length": "38 cm"}},
        'length does nothing to "p.dxf", a drawing with its own outline',
    ),
    "plate file of a built-in shape": (
        {"plate": {"material": "aluminium", "thickness": "3 mm", "file": "p.svg", "shape": "small"}},
        'shape does nothing to "p.svg", a drawing with its own outline',
    ),
    "plate file turned in depth": (
        {"plate": {"catalogue": "small carbon", "file": "p.dxf", "back_axis": "-z"}},
        "back_axis does nothing",
    ),
    "plate solid with a thickness": (
        {"plate": {"material": "aluminium", "thickness": "3 mm", "file": "p.stl", "unit": "mm"}},
        'thickness does nothing to "p.stl", which is a solid',
    ),
    "plate solid with bends": (
        {"plate": {"material": "titanium", "file": "p.3mf", "bends": [{"offset": "3 cm", "angle": "45 deg"}]}},
        "bends does nothing",
    ),
    "fins twice": ({"fins": {"catalogue": "rubber", "pair_mass": "2 kg", "each_mass": "1 kg"}}, "give the mass once"),
    "lead nowhere": ({"lead": [{"mass": "1 kg"}]}, 'say where it is: place = "belt"'),
    "lead in two places": ({"lead": [{"mass": "1 kg", "place": "belt", "at": [0, 0, 0]}]}, "one of them"),
    "gear of no size": ({"gear": [{"name": "x", "mass": "1 kg", "place": "chest"}]}, "give volume"),
    "no such kind of gear": ({"gear": [{"kind": "boat", "name": "x"}]}, 'kind is "item" (the default) or "stage"'),
    "point with text": (
        {"lead": [{"mass": "1 kg", "at": [0, 0, "1 m"]}]},
        'holds the text "1 m"; write three bare numbers',
    ),
    "point in millimetres": ({"lead": [{"mass": "1 kg", "at": [0, 0, 120]}]}, "more than 10 m from the hips"),
}


@pytest.mark.parametrize(("tables", "says"), BAD.values(), ids=BAD)
def test_what_does_not_agree_is_refused(tables, says):
    assert says in _refused(**tables)


def test_a_plate_of_another_material_needs_a_density_or_a_mass():
    plate = {"material": "other", "thickness": "4 mm", "length": "40 cm", "width": "28 cm", "channel_depth": "5 cm"}
    assert "needs a density" in _refused(plate=plate)
    assert _scenario(plate={**plate, "mass": "1.2 kg"}).plate.mass == 1.2


def test_a_drawing_takes_of_a_catalogue_entry_what_it_is_made_of():
    flat = _scenario(plate={"catalogue": "small carbon", "file": "p.dxf"}).plate
    assert (flat.material, flat.thickness, flat.density, flat.length) == ("carbon laminate", 0.002, 1550.0, None)
    solid = _scenario(plate={"catalogue": "small carbon", "file": "p.glb"}).plate
    assert (solid.material, solid.thickness, solid.density, solid.length) == ("carbon laminate", None, 1550.0, None)


@pytest.mark.parametrize("more", [{}, {"file": "p.dxf"}])
def test_another_material_than_the_entry_s_has_another_density(more):
    """The entry's 8000 kg/m^3 is steel's: it does not hold for the aluminium that is written beside it."""
    plate = _scenario(plate={"catalogue": "standard steel", "material": "aluminium", **more}).plate
    assert plate.density is None
    same = _scenario(plate={"catalogue": "standard steel", "material": "stainless steel", **more}).plate
    assert same.density == 8000.0
    own = _scenario(plate={"catalogue": "standard steel", "material": "aluminium", "density": "2800 kg/m^3", **more})
    assert own.plate.density == 2800.0


@pytest.mark.parametrize(("arrangement", "stages"), [("single", 1), ("twin", 2)])
def test_one_key_of_the_regulators_changes_those_usual_for_the_arrangement(arrangement, stages):
    worn = {"catalogue": f"{arrangement} steel 12 l 232 bar", "regulators": {"gauge_mass": "0.3 kg"}}
    regulators = _scenario(cylinders=worn).cylinders.regulators
    usual = _scenario(cylinders={**worn, "regulators": arrangement}).cylinders.regulators
    assert (regulators.gauge_mass, regulators.first_stages) == (0.3, stages)
    assert regulators.model_copy(update={"gauge_mass": usual.gauge_mass}) == usual


def test_a_drawing_is_looked_for_beside_the_file(load, complaint, person, tmp_path):
    table = '[plate]\nmaterial = "aluminium"\nthickness = "3 mm"\nunit = "mm"\nfile = "mine.dxf"\n'
    assert "there is no file" in complaint(person + table)
    (tmp_path / "mine.dxf").write_text("drawing", encoding="utf-8")
    assert load(person + table).content.plate.file == tmp_path / "mine.dxf"


def test_spreads_are_kept_beside_the_values():
    diver = {**DIVER, "mass": "58 ± 0.5 kg", "measures": {"waist girth": "72 +- 1 cm"}}
    scenario = _scenario(diver=diver, lead=[{"mass": "2 kg +- 5 %", "place": "belt"}])
    assert scenario.diver.mass == 58.0
    expected = {"diver.mass": 0.5, "diver.measures.waistcircumference": 0.01, "lead.0.mass": 0.1}
    assert all_spreads(scenario) == pytest.approx(expected, rel=1e-14)
    assert dict(_scenario().diver.spreads) == {}


def test_plain_and_survey_names_of_measures_are_the_same():
    for spelling in ("waist_girth", "Waist girth", "waist-circumference", "waist", "waistcircumference"):
        assert _scenario(diver={**DIVER, "measures": {spelling: "72 cm"}}).diver.measures == {
            "waistcircumference": 0.72
        }


def test_no_plain_name_means_two_measures():
    names = [n for m in measures() for n in {m.measure, m.name, *m.other_names}]
    assert len(names) == len(set(names))
    assert all(m.least < m.most for m in measures())


def test_measures_are_those_of_the_body_model():
    from sim.person.measures import measures_model

    assert {m.measure for m in measures()} == set(measures_model().names) - {"age"}


def test_poses_and_joints_are_those_of_the_body_model():
    from typing import get_args

    from sim.person.pose import POSES, RANGES

    assert set(get_args(PoseName)) == set(POSES)
    both_sides = {k: v for k, v in joint_ranges().items() if k.split()[0] not in ("left", "right")}
    assert both_sides == {name.replace("_", " "): span for name, span in RANGES.items()}


def test_joints():
    pose = Pose.model_validate({"joints": {"Left_knee-flexion": "90 deg", "neck extension": "0.5 rad"}})
    assert pose.joints == pytest.approx({"left knee flexion": 1.5707963267948966, "neck extension": 0.5}, rel=1e-15)


@pytest.mark.parametrize("name", demo_names())
def test_reads_back_what_it_writes(name):
    scenario = read_scenario(demo_path(name))
    beside = {"folder": str(demo_path(name).parent)}  # where a file of what was learnt lies
    again = Scenario.model_validate_json(scenario.model_dump_json(exclude_none=True), context=beside)
    # one rounding a percentage or other unit that is no power of ten; here every text is in SI units
    assert again.model_dump() == scenario.model_dump()


@pytest.mark.parametrize("model", [Scenario, PartsFile])
def test_the_schema_describes_every_key(model):
    schema = model.model_json_schema()
    assert json.loads(json.dumps(schema)) == schema
    for table in (schema, *schema["$defs"].values()):
        for key, value in table.get("properties", {}).items():
            assert value.get("description"), f"{table['title']}.{key} has no description"


@pytest.mark.parametrize("model", [Scenario, PartsFile])
def test_every_example_and_range_can_be_read(model):
    seen = 0
    stack, done = [model], set()
    while stack:
        table = stack.pop()
        done.add(table)
        for field in table.model_fields.values():
            stack += [t for t in tables_in(field.annotation) if t not in done]
            quantity = quantity_of(field)
            if quantity is not None:
                seen += 1
                for text in (quantity.shown, quantity.least or quantity.shown, quantity.most or quantity.shown):
                    assert isinstance(quantity.read(text), float)
    assert seen > 10


def test_heavy_libraries_stay_out():
    code = (
        "import sys, scenarios.reading, scenarios.models;"
        "print([m for m in ('scipy', 'trimesh', 'pyvista', 'matplotlib', 'numpy') if m in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"
