"""The parts file: the contract's own example to the last bit, and what it refuses."""

import tomllib
from typing import get_args

import pytest

from scenarios.checking import checked
from scenarios.errors import ScenarioError
from scenarios.parts_file import PartKind, PartsFile

CONTRACT = """\
format = "parts/1"
[water]
density = "1025 kg/m^3"
gravity = "9.81 m/s^2"
[depth]
pressure = "252153.75 Pa"        # absolute, at the held point
held = "cm"                      # or [x, y, z]
[[part]]
name = "trunk"
mass = "28.826 kg"
cm = [0.222, 0.0, 0.0]
volume = "30.027 l"
cb = [0.239, 0.0, -0.004]
[suit]
gas = "5 l"
softness = "300 Pa"
cells = [{ at = [0.07, 0.11, 0.0], least = "0.0122 l", most = "0.3043 l" }]
[wing]
gas = "neutral"
softness = "300 Pa"
cells = [{ at = [-0.2, 0.12, 0.1], most = "0.1875 l" }]
"""


def test_the_contracts_example(load):
    parts = load(CONTRACT).content
    assert isinstance(parts, PartsFile)
    assert (parts.water.density, parts.water.gravity) == (1025.0, 9.81)
    assert (parts.depth.pressure, parts.depth.held) == (252153.75, "cm")
    part = parts.part[0]
    assert (part.name, part.kind, part.mass, part.cm) == ("trunk", "other", 28.826, (0.222, 0.0, 0.0))
    assert (part.volume, part.cb, part.inertia) == (0.030027, (0.239, 0.0, -0.004), None)
    assert (parts.suit.gas, parts.suit.softness) == (0.005, 300.0)
    assert [(c.at, c.least, c.most) for c in parts.suit.cells] == [((0.07, 0.11, 0.0), 1.22e-5, 3.043e-4)]
    assert (parts.wing.gas, parts.wing.softness) == ("neutral", 300.0)
    assert [(c.at, c.most) for c in parts.wing.cells] == [((-0.2, 0.12, 0.1), 1.875e-4)]
    assert (parts.suit.gas_density, parts.wing.gas_density) == (0.0, 0.0)


def test_an_overfull_suit_is_read_and_left_to_vent(load):
    assert load(CONTRACT).notes == ()


def test_suit_and_wing_may_be_left_out(load):
    parts = load(CONTRACT[: CONTRACT.index("[suit]")]).content
    assert parts.suit is None
    assert parts.wing is None


def test_whole_numbers_are_numbers(load):
    parts = load(
        CONTRACT.replace('held = "cm"', "held = [0, 1, -2]").replace("[0.222, 0.0, 0.0]", "[0, 0, 0]")
    ).content
    assert parts.depth.held == (0.0, 1.0, -2.0)
    assert all(isinstance(x, float) for x in (*parts.depth.held, *parts.part[0].cm))


def test_reads_back_what_it_writes(load):
    text = CONTRACT.replace("[suit]", "inertia = [[1.0, 0.1, 0], [0.1, 2, 0], [0, 0, 2.5]]\n[suit]")
    parts = load(text).content
    assert PartsFile.model_validate_json(parts.model_dump_json(exclude_none=True)) == parts
    assert parts.part[0].inertia == ((1.0, 0.1, 0.0), (0.1, 2.0, 0.0), (0.0, 0.0, 2.5))


def _part(**changed):
    part = {"name": "a", "mass": "1 kg", "cm": [0, 0, 0], "volume": "1 l", "cb": [0, 0, 0], **changed}
    document = {"format": "parts/1", "water": {"density": "1 kg/l"}, "depth": {"pressure": "2 bar"}, "part": [part]}
    return checked(PartsFile, document, name="parts").part[0]


def test_inertia_of_a_rod_has_one_moment_of_zero():
    assert _part(inertia=[[0, 0, 0], [0, 1, 0], [0, 0, 1]]).inertia[0][0] == 0.0


INERTIAS = {
    "not symmetric": ([[1, 0.5, 0], [0.4, 1, 0], [0, 0, 1]], "not symmetric"),
    "negative": ([[1, 2, 0], [2, 1, 0], [0, 0, 1]], r"a principal moment is negative \(-1 kg m\^2\)"),
    "two rows": ([[1, 0, 0], [0, 1, 0]], "expected 3 rows of 3 numbers, found a list of 2"),
    "short row": ([[1, 0], [0, 1], [0, 0]], "expected 3 rows of 3 numbers"),
    "text": ([["1", 0, 0], [0, 1, 0], [0, 0, 1]], "no finite number"),
    "nan": ([[float("nan"), 0, 0], [0, 1, 0], [0, 0, 1]], "no finite number"),
    "true": ([[True, 0, 0], [0, 1, 0], [0, 0, 1]], "no finite number"),
    "a number": (1.0, "expected 3 rows of 3 numbers, found 1.0"),
}


@pytest.mark.parametrize(("inertia", "says"), INERTIAS.values(), ids=INERTIAS)
def test_an_inertia_that_no_mass_has(inertia, says):
    with pytest.raises(ScenarioError, match=says):
        _part(inertia=inertia)


def test_an_inertia_that_no_solid_has_is_a_note(load):
    text = CONTRACT.replace("[suit]", "inertia = [[1, 0, 0], [0, 1, 0], [0, 0, 3]]\n[suit]").replace(
        '"5 l"', '"0.1 l"'
    )
    assert load(text).notes == (
        "Part 'trunk': one moment of inertia is larger than the other two together, which no solid has; only "
        "settling uses it.",
    )


# (old, new) in the contract's example
PARTS = CONTRACT[CONTRACT.index("[[part]]") : CONTRACT.index("[suit]")]
WATER = CONTRACT[CONTRACT.index("[water]") : CONTRACT.index("[depth]")]
WING = CONTRACT[CONTRACT.index("[wing]") :]
SUIT = CONTRACT[CONTRACT.index("[suit]") : CONTRACT.index("[wing]")]
HEADLESS = 'the point (the part\'s centre of mass) holds the text "0.222 m"'
WRONG = {
    "misspelt": (("volume =", "volum ="), 12, "part.0.volum: unknown key; did you mean 'volume'?"),
    "length with unit": (("0.222", '"0.222 m"'), 11, f"part.0.cm: {HEADLESS}"),
    "held at": (('"cm"', '"cb"'), 7, 'depth.held: held is "cb"; write "cm" for the centre of mass, or a point'),
    "negative mass": (('"28.826 kg"', '"-1 kg"'), 10, 'part.0.mass: "-1 kg" is not believable'),
    "no mass at all": (('"28.826 kg"', '"0 kg"'), None, "the masses of all parts add up to 0 kg"),
    "least above most": (("0.0122", "0.4"), 17, "suit.cells.0: least (0.4 l) must be less than most (0.3043 l)"),
    "wing cell's least": (
        ('most = "0.1875 l"', 'most = "1 l", least = "0.1 l"'),
        21,
        'wing.cells.0.least: "0.1 l" is not believable',
    ),
    "wing overfull": (('"neutral"', '"0.2 l"'), 18, "wing: the gas, 0.2 l, is more than the 0.1875 l"),
    "no softness": ((WING, WING.replace('softness = "300 Pa"\n', "")), 18, "wing.softness: this is missing"),
    "softness of zero": ((SUIT, SUIT.replace('"300 Pa"', '"0 Pa"')), 16, 'suit.softness: "0 Pa" is not'),
    "no water": ((WATER, ""), None, "water: this is missing; add a table [water]"),
    "no parts": ((PARTS, ""), None, "part: this is missing; add a table [[part]]"),
    "unknown kind": (('name = "trunk"', 'name = "a"\nkind = "torso"'), 10, 'part.0.kind: "torso" is not known here'),
    "no cells": ((WING, WING[: WING.index("[{")] + "[]"), 21, "wing.cells: at least 1 must be given, found 0"),
    "a diver": (
        ("[suit]", "[diver]\n[suit]"),
        14,
        "diver: a parts file holds numbers only and 'diver' belongs to a scenario file",
    ),
}


@pytest.mark.parametrize(("change", "line", "says"), WRONG.values(), ids=WRONG)
def test_refused(complaint, change, line, says):
    assert change[0] in CONTRACT
    text = complaint(CONTRACT.replace(change[0], change[1], 1))
    head = "diver.toml: " if line is None else f"diver.toml:{line}: "
    shown = [row for row in text.split("\n") if row.startswith(head)]
    assert any(row.removeprefix(head).startswith(says) for row in shown), text


def test_kinds_are_those_of_the_rig():
    from sim.rig import Kind

    assert get_args(PartKind) == get_args(Kind)


def test_the_two_kinds_of_file_are_told_apart(load, complaint, person):
    assert load('format = "scenario/1"\n' + person).content == load(person).content
    text = complaint('format = "parts/2"\n' + person)
    assert text == (
        'diver.toml:1: format: "parts/2" is no format known here; known: "scenario/1" or "parts/1"; did you mean '
        '"parts/1"?\n      1 | format = "parts/2"'
    )
    text = complaint(CONTRACT.replace('format = "parts/1"\n', ""))
    assert text.startswith('diver.toml:7: this looks like a parts file; add format = "parts/1" as its first line')
    assert complaint("format = 1\n" + person).startswith('diver.toml:1: format: "1" is no format known here')


def test_data_without_a_file_can_be_read():
    parts = checked(PartsFile, tomllib.loads(CONTRACT), name="parts")
    assert parts.part[0].mass == 28.826


def test_a_wing_cell_may_say_that_it_can_be_empty(load):
    told = CONTRACT.replace('most = "0.1875 l"', 'least = "0 l", most = "0.1875 l"')
    assert told != CONTRACT
    assert load(told).content.wing == load(CONTRACT).content.wing


def test_a_refused_entry_does_not_make_its_list_too_short(load):
    with pytest.raises(ScenarioError) as caught:
        load(CONTRACT.replace('"28.826 kg"', '"-1 kg"'))
    assert len(caught.value.problems) == 1
