"""Study files: what their factors come to, and one line for each way to get one wrong."""

import pytest

from scenarios.errors import ScenarioError
from scenarios.study_axes import ChoiceAxis, NumberAxis
from scenarios.study_reading import read_study

RIG = """
format = "parts/1"
[water]
density = "1025 kg/m^3"
[depth]
pressure = "2 bar"
[[part]]
name = "body"
mass = "60 kg"
cm = [0.0, 0.0, 0.0]
volume = "57 l"
cb = [0.02, 0.0, 0.01]
"""
DIVER = """
[diver]
sex = "female"
height = "166 cm"
mass = "58 kg"
[harness]
catalogue = "one-piece webbing"
[water]
temperature = "10 °C"
"""
HEAD = 'format = "study/1"\nbase = "diver.toml"\noutputs = ["mass"]\n'
GRID = '[design]\nkind = "grid"\n'
SOBOL = '[design]\nkind = "sobol"\nnumber = 8\n'


@pytest.fixture
def read(tmp_path):
    (tmp_path / "diver.toml").write_text(DIVER, encoding="utf-8")
    (tmp_path / "rig.toml").write_text(RIG, encoding="utf-8")

    def reader(text: str):
        (tmp_path / "study.toml").write_text(text, encoding="utf-8")
        return read_study(tmp_path / "study.toml")

    return reader


def axis(read, factor: str, design: str = SOBOL, head: str = HEAD):
    return read(f"{head}{design}[[factor]]\n{factor}").axes[0]


def test_numbers_keep_the_unit_they_were_written_in(read):
    one = axis(read, 'key = "harness.drop"\nvalues = ["-2 cm", "0.5 in", "30 mm"]\n', GRID)
    assert isinstance(one, NumberAxis)
    assert one.scale.name == "cm"
    assert one.numbers == pytest.approx((-2.0, 1.27, 3.0), rel=1e-15)
    assert one.setting(one.numbers[0]).value == "-2.0 cm"
    assert one.scale.si(-2.0) == -0.02


def test_a_temperature_has_a_mean_and_a_difference(read):
    one = axis(read, 'key = "water.temperature"\nnormal = "10 +- 2 °C"\nleast = "0 °C"\n')
    assert one.numbers == pytest.approx((10.0, 2.0))
    assert one.least == pytest.approx(0.0, abs=1e-12)


def test_a_spread_in_percent_is_of_the_mean(read):
    assert axis(read, 'key = "diver.mass"\nnormal = "60 kg +- 5 %"\n').numbers == pytest.approx((60.0, 3.0))


def test_bare_numbers_of_a_point(read):
    one = axis(read, 'key = "part.0.cm.0"\nuniform = [-0.01, 0.01]\n', head=HEAD.replace("diver", "rig"))
    assert one.scale.name == ""
    assert one.setting(0.005).value == 0.005


def test_a_measure_by_its_plain_name(read):
    assert axis(read, 'key = "diver.measures.waist_girth"\nuniform = ["70 cm", "75 cm"]\n').scale.name == "cm"


def test_choices_may_change_several_keys(read):
    one = axis(
        read,
        'name = "rig"\nchoices = [\n{ name = "plain", set = {} },\n'
        '{ name = "dropped", set = { "harness.drop" = "3 cm", plate = "small carbon" } }]\n',
        GRID,
    )
    assert isinstance(one, ChoiceAxis)
    assert one.labels == ("plain", "dropped")
    assert [s.path for s in one.settings[1]] == [("harness", "drop"), ("plate",)]


def test_a_base_may_stand_in_the_file_itself(read):
    head = 'format = "study/1"\noutputs = ["mass"]\n'
    loaded = read(
        f'{head}{GRID}[base.diver]\nsex = "male"\nheight = "180 cm"\nmass = "80 kg"\n'
        '[[factor]]\nkey = "plate"\nchoices = ["none", "small carbon"]\n'
    )
    assert loaded.base.document["diver"]["height"] == "180 cm"
    assert loaded.has_person


def test_the_study_may_change_its_base_for_all_rows(read):
    loaded = read(f'{HEAD}set = {{ "diver.mass" = "61 kg" }}\n{GRID}[[factor]]\nkey = "plate"\nchoices = ["none"]\n')
    assert loaded.base.document["diver"]["mass"] == "61 kg"


DROP = '[[factor]]\nkey = "harness.drop"\n'
PLATE = '[[factor]]\nkey = "plate"\n'
# what follows the head and the design, the line to blame counted from 1, and the words to be found
REFUSED = {
    "no way": (PLATE, SOBOL, 7, "varied in one way; found nothing"),
    "two ways": (
        '[[factor]]\nkey = "diver.mass"\nvalues = ["60 kg"]\nnormal = "60 +- 1 kg"\n',
        SOBOL,
        7,
        "found values and normal",
    ),
    "no key": ('[[factor]]\nchoices = ["a"]\n', GRID, 6, 'say what is varied: key = "harness.drop"'),
    "unknown key": (
        '[[factor]]\nkey = "harness.drip"\nvalues = ["1 cm"]\n',
        GRID,
        7,
        'factor.0.key: "harness.drip" leads to nothing',
    ),
    "unknown entry": (PLATE + 'choices = ["none",\n"small carbn"]\n', GRID, 9, 'did you mean "small carbon"?'),
    "word for a number": (
        PLATE + 'values = ["small carbon"]\n',
        GRID,
        7,
        "holds no number; give its words as choices",
    ),
    "no unit": (DROP + "values = [2, 3]\n", GRID, 8, "2 has no unit"),
    "wrong unit": (DROP + 'range = ["1 cm", "2 bar"]\n', GRID, 8, '"bar" is a unit of pressure'),
    "not believed": (DROP + 'range = ["1 cm", "2 m"]\n', GRID, 8, '"2 m" is not believable'),
    "wrong way round": (DROP + 'range = ["2 cm", "1 cm"]\n', GRID, 8, "first of range must be less"),
    "triangle": (DROP + 'triangular = ["2 cm", "1 cm", "3 cm"]\n', SOBOL, 9, "least, likeliest and most"),
    "no spread": ('[[factor]]\nkey = "diver.mass"\nnormal = "60 kg"\n', SOBOL, 9, '"60 kg" has no spread'),
    "far tails": (
        '[[factor]]\nkey = "diver.mass"\nnormal = "60 +- 10 kg"\n',
        SOBOL,
        9,
        "give least and most to cut it off",
    ),
    "twice": (
        PLATE + 'choices = ["none"]\n' + PLATE + 'choices = ["none"]\n',
        GRID,
        9,
        'two factors are called "plate"',
    ),
    "same choice": (PLATE + 'choices = ["none", "none"]\n', GRID, 8, "stands twice among the choices"),
    "no number": (DROP + 'uniform = ["1 cm", "2 cm"]\n', GRID, 4, "say how many are drawn"),
    "not a power": (
        DROP + 'uniform = ["1 cm", "2 cm"]\n',
        SOBOL.replace("8", "100"),
        6,
        "take 64 or 128 instead of 100",
    ),
    "draws nothing": (PLATE + 'choices = ["none"]\n', GRID + "number = 5\n", 6, "draws nothing: leave number out"),
    "one factor": (
        DROP + 'uniform = ["1 cm", "2 cm"]\n',
        SOBOL.replace("sobol", "saltelli"),
        7,
        "indices compare factors",
    ),
    "unknown output": ('outputs = ["weight"]\n', "", 3, "this key or table stands in the file twice"),
    "misspelt way": (DROP + 'renge = ["1 cm", "2 cm"]\n', GRID, 8, "did you mean 'range'?"),
    "correlation of none": (
        DROP + 'uniform = ["1 cm", "2 cm"]\n[[correlation]]\nbetween = ["harness.drop", "x"]\nvalue = 0.5\n',
        SOBOL,
        11,
        '"x" is no factor that is drawn',
    ),
}


@pytest.mark.parametrize(("rest", "design", "line", "words"), REFUSED.values(), ids=list(REFUSED))
def test_each_fault_is_told_with_its_line(read, rest, design, line, words):
    with pytest.raises(ScenarioError) as caught:
        read(HEAD + design + rest)
    first = str(caught.value).splitlines()[0]
    assert words in str(caught.value)
    assert f"study.toml:{line}" in first or f"study.toml:{line + 1}" in first, first
    assert len(caught.value.problems) == 1


def test_contradicting_correlations(read):
    factors = "".join(f'[[factor]]\nname = "{n}"\nkey = "diver.mass"\nnormal = "60 +- 1 kg"\n' for n in "abc")
    pairs = "".join(
        f'[[correlation]]\nbetween = ["{a}", "{b}"]\nvalue = {r}\n'
        for a, b, r in [("a", "b", 0.9), ("b", "c", 0.9), ("a", "c", -0.9)]
    )
    with pytest.raises(ScenarioError, match="contradict each other"):
        read(HEAD + SOBOL + factors + pairs)


def test_a_missing_base(read):
    with pytest.raises(ScenarioError, match=r"study.toml:2: base: there is no file"):
        read(HEAD.replace("diver.toml", "nobody.toml") + GRID + '[[factor]]\nkey = "plate"\nchoices = ["none"]\n')


def test_a_fault_in_the_base_is_the_base_s(read, tmp_path):
    (tmp_path / "diver.toml").write_text(DIVER.replace("58 kg", "58 bar"), encoding="utf-8")
    with pytest.raises(ScenarioError, match=r"diver.toml:5: diver.mass"):
        read(HEAD + GRID + PLATE + 'choices = ["none"]\n')


def test_a_scenario_is_no_study(read, tmp_path):
    with pytest.raises(ScenarioError, match='this is no study file; a study begins with format = "study/1"'):
        read_study(tmp_path / "diver.toml")


@pytest.mark.parametrize(
    ("key", "ends", "file"),
    [
        ("length", '["34 cm", "46 cm"]', "mine.dxf"),
        ("width", '["24 cm", "32 cm"]', "mine.svg"),
        ("channel_depth", '["35 mm", "75 mm"]', "mine.dxf"),
        ("thickness", '["2 mm", "4 mm"]', "mine.stl"),
    ],
)
def test_what_a_drawing_fixes_is_not_varied(read, tmp_path, key, ends, file):
    (tmp_path / file).write_text("drawing", encoding="utf-8")
    plate = f'set = {{ plate = {{ catalogue = "small carbon", file = "{file}", unit = "mm" }} }}\n'
    with pytest.raises(ScenarioError, match=f'plate.{key}: {key} does nothing to "{file}"') as caught:
        read(f'{HEAD}{plate}{GRID}[[factor]]\nkey = "plate.{key}"\nrange = {ends}\n')
    assert len(caught.value.problems) == 1
