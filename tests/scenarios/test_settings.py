"""What-ifs on a file's raw tables, and faults in them that name the --set they come from."""

import copy

import pytest

from scenarios.errors import ScenarioError
from scenarios.settings import setting_of, with_settings

DOCUMENT = {
    "diver": {"sex": "female", "height": "166 cm", "mass": "58 kg"},
    "plate": "standard steel",
    "lead": [{"mass": "2 kg", "place": "belt"}],
}


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        ("plate.catalogue=small carbon", ("plate", "catalogue"), "small carbon"),
        ("cylinders.pressure = 50 bar", ("cylinders", "pressure"), "50 bar"),
        ('cylinders.pressure="50 bar"', ("cylinders", "pressure"), "50 bar"),
        ("lead.0.mass=2 kg", ("lead", 0, "mass"), "2 kg"),
        ("depth.held=[0, 0.1, 0]", ("depth", "held"), [0, 0.1, 0]),
        ("suit.gaiters=true", ("suit", "gaiters"), True),
        ("diver.mass=58", ("diver", "mass"), 58),
        ("diver.age=34 years", ("diver", "age"), "34 years"),
        ("title=a=b", ("title",), "a=b"),
        ("suit.gas=", ("suit", "gas"), ""),
        ("title=1\nplate = 2", ("title",), "1\nplate = 2"),
        ("title=2024-01-01", ("title",), "2024-01-01"),
        ('title="open', ("title",), '"open'),
        ("diver.measures.waist girth=80 cm", ("diver", "measures", "waist girth"), "80 cm"),
    ],
)
def test_reads_key_and_value(text, path, value):
    setting = setting_of(text)
    assert (setting.path, setting.value) == (path, value)


@pytest.mark.parametrize("text", ["", "plate", "=x", "plate.=x", ".x=1", "a" + ".a" * 30 + "=1"])
def test_refuses_what_is_no_key_and_value(text):
    with pytest.raises(ScenarioError, match=r"^--set .*expected KEY=VALUE"):
        setting_of(text)


def apply_settings(document, texts):
    return with_settings(document, [setting_of(text) for text in texts])


def test_changes_a_copy():
    before = copy.deepcopy(DOCUMENT)
    changed = apply_settings(DOCUMENT, ["diver.mass=60 kg", "lead.0.mass=3 kg"])
    assert before == DOCUMENT
    assert changed["diver"]["mass"] == "60 kg"
    assert changed["lead"] == [{"mass": "3 kg", "place": "belt"}]


def test_a_bare_name_becomes_a_table_when_a_key_of_it_is_set():
    assert apply_settings(DOCUMENT, ["plate.mass=2 kg"])["plate"] == {"catalogue": "standard steel", "mass": "2 kg"}
    posed = apply_settings({"pose": "upright"}, ["pose.joints.knee flexion=20 deg"])
    assert posed["pose"] == {"name": "upright", "joints": {"knee flexion": "20 deg"}}


def test_makes_tables_and_appends_to_lists():
    changed = apply_settings(DOCUMENT, ["lead.1.mass=1 kg", "lead.1.place=tail", "wing.gas=4 l", "gear.0=mask"])
    assert changed["lead"][1] == {"mass": "1 kg", "place": "tail"}
    assert changed["wing"] == {"gas": "4 l"}
    assert changed["gear"] == ["mask"]


def test_later_settings_win():
    assert apply_settings(DOCUMENT, ["plate=small carbon", "plate=none"])["plate"] == "none"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("lead.mass=1 kg", "'lead' is a list of 1; write lead.0.mass for the first"),
        ("lead.3.mass=1 kg", "'lead' has entries 0 to 0, so 3 leads nowhere"),
        ("gear.2.mass=1 kg", "'gear' has no entries yet, so 2 leads nowhere"),
        ("diver.0=x", "'diver' is a table, not a list; name a key in it instead of 0"),
        ("diver.mass.value=1", "'diver.mass' is"),
    ],
)
def test_a_path_that_leads_nowhere(text, says):
    if text.startswith("diver.mass"):
        with pytest.raises(ScenarioError, match=says):
            apply_settings({"diver": {"mass": 58}}, [text])
        return
    with pytest.raises(ScenarioError) as refused:
        apply_settings(DOCUMENT, [text])
    assert str(refused.value) == f"--set {text}: {says}"


def test_settings_reach_the_model(load, person):
    gear = '[cylinders]\ncatalogue = "twin steel 12 l 232 bar"\n[[lead]]\nmass = "1 kg"\nplace = "belt"\n'
    waist = "diver.measures.waist girth=80 cm"
    loaded = load(person + gear, ("cylinders.pressure=50 bar", "plate=small carbon", "lead.0.mass=3 lb", waist))
    scenario = loaded.content
    assert scenario.cylinders.fill == 50e5
    assert scenario.plate.catalogue == "small carbon"
    assert scenario.lead[0].mass == pytest.approx(3 * 0.45359237, rel=1e-15)
    assert scenario.diver.measures == {"waistcircumference": 0.8}
    assert loaded.document["cylinders"]["pressure"] == "50 bar"


def test_settings_reach_a_parts_file(load):
    text = (
        'format = "parts/1"\nwater = { density = "1 kg/l" }\ndepth = { pressure = "2 bar" }\n'
        '[[part]]\nname = "a"\nmass = "1 kg"\ncm = [0, 0, 0]\nvolume = "1 l"\ncb = [0, 0, 0]\n'
    )
    parts = load(text, ("part.0.mass=2 kg", "part.0.cm=[0.5, 0, 0]", "depth.held=[0, 0, 1]")).content
    assert (parts.part[0].mass, parts.part[0].cm, parts.depth.held) == (2.0, (0.5, 0.0, 0.0), (0.0, 0.0, 1.0))


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        ("cylinders.presure=50 bar", "cylinders.presure: unknown key; did you mean 'pressure'?"),
        ("cylinders.pressure=50", 'cylinders.pressure: 50 has no unit; write it as text with one, like "200 bar"'),
        ("plate=smal carbon", 'plate: "smal carbon" is not in the catalogue of plate; did you mean "small carbon"?'),
        ("plat=small carbon", "plat: unknown key; did you mean 'plate'?"),
        ("wing.gas=5 l", "wing: cylinders, capacity, mass, density, length, width are missing; name an entry"),
        ("cylinders.gas=nitrox", 'cylinders.gas: "nitrox" is no gas known here; write "air"'),
    ],
)
def test_a_fault_names_its_setting(complaint, person, setting, says):
    text = complaint(person, ("cylinders=steel 12 l 232 bar", setting))
    assert text.startswith(f"--set {setting}: {says}")
    assert "diver.toml" not in text


def test_a_fault_of_the_file_still_names_its_line(complaint, person):
    text = complaint(person.replace("58 kg", "58 l"), ("plate=small carbon",))
    assert text.startswith("diver.toml:4: diver.mass: ")


def test_keys_that_stay_in_force_beside_a_new_entry_are_noted(load, person):
    text = person + '[plate]\ncatalogue = "standard steel"\nmass = "2.9 kg"\n'
    loaded = load(text, ("plate.catalogue=small carbon",))
    assert loaded.content.plate.mass == 2.9
    assert loaded.notes[0] == (
        "plate: the entry was changed to 'small carbon', and mass = '2.9 kg' from the file still holds; write --set "
        "plate='small carbon' to take the entry as it is."
    )
    assert load(text, ("plate=small carbon",)).content.plate.mass is None


@pytest.mark.parametrize(("before", "after"), [("shoulder_strap", "drop"), ("drop", "shoulder_strap")])
def test_one_way_to_say_the_rig_s_height_takes_the_other_s_place(before, after):
    document = {"harness": {"catalogue": "one-piece webbing", before: "58 cm"}}
    changed = apply_settings(document, [f"harness.{after}=4 cm"])
    assert changed == {"harness": {"catalogue": "one-piece webbing", after: "4 cm"}}
