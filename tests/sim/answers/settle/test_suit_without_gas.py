"""A suit that was vented, or holds far too little: answered, and said in words with numbers."""

import pytest

from scenarios.demos import demo_path
from sim.answers.settle.notes import notes_of
from sim.answers.settle.report import report_of
from sim.case import Case
from sim.statics.equilibria import equilibria
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

# With gas that is pressed into what the cells hold at least, 0.1 l, the whole is one stiff part: neutral, and CB
# straight above CM.
VENTED = """\
format = "parts/1"
[water]
density = "1000 kg/m^3"
gravity = "10 m/s^2"
[depth]
pressure = "2 bar"
[[part]]
name = "diver"
mass = "100 kg"
cm = [0.0, 0.0, 0.0]
volume = "99.9 l"
cb = [0.0, 0.0, 0.02]
[suit]
gas = "GAS"
softness = "300 Pa"
cells = [{ at = [0.5, 0.0, 0.02], least = "0.05 l", most = "5 l" },
  { at = [-0.5, 0.0, 0.02], least = "0.05 l", most = "5 l" }]
"""


@pytest.mark.parametrize("gas", ["0 l", "1e-6 l", "0.01 l", "0.09 l"])
def test_parts_file_with_a_vented_suit(tmp_path, gas):
    file = tmp_path / "vented.toml"
    file.write_text(VENTED.replace("GAS", gas), encoding="utf-8")
    report = report_of(Case.read(file).assembled)
    assert report.flat.suit_gas == pytest.approx(1e-4, rel=1e-6)
    assert report.flat.net_buoyancy == pytest.approx(0.0, abs=1e-6)
    # 100 kg x 10 m/s^2 x 20 mm, and nothing for gas that cannot move
    assert report.flat.pitch_stiffness == pytest.approx(20.0, rel=1e-4)
    assert report.settled.reached
    assert report.settled.pitch == pytest.approx(0.0, abs=1e-6)
    words = "squeezed to the 0.10 l that stay open" if gas in ("0 l", "1e-6 l") else "far too little gas"
    assert any(words in n for n in report.notes)


def test_cells_that_can_be_empty_are_empty_without_gas(tmp_path):
    file = tmp_path / "vented.toml"
    text = VENTED.replace("GAS", "0 l").replace('least = "0.05 l"', 'least = "0 l"')
    file.write_text(text, encoding="utf-8")
    report = report_of(Case.read(file).assembled)
    assert report.flat.suit_gas == 0.0
    assert report.settled.reached
    assert any("holds no gas" in n for n in report.notes)


def test_fibres_stay_open_without_gas_as_van_wyks_law_has_it(tmp_path):
    """All the pressure of the water on them: V0 (1 + p / P)^(-1/3), and the lift of that."""
    file = tmp_path / "garment.toml"
    cells = VENTED.index("cells = ")
    garment = 'garment = [{ at = [0.0, 0.0, 0.02], loft = "10 l", slack = "5 l" }]\n'
    file.write_text(VENTED[:cells].replace("GAS", "0 l") + garment, encoding="utf-8")
    report = report_of(Case.read(file).assembled)
    open_still = 10e-3 * (1.0 + (2e5 - 1e3 * 10.0 * 0.02) / 300.0) ** (-1 / 3)  # 2 cm over the held point
    assert report.flat.suit_gas == pytest.approx(open_still, rel=1e-5)
    assert report.flat.net_buoyancy == pytest.approx(-0.1 + 1e3 * open_still, rel=1e-5)


def test_no_gas_is_the_limit_of_little(tmp_path):
    """A hundredth of a litre more or less of stated gas changes each answer by as little."""
    case = Case.read(str(demo_path("small-woman-steel")))
    none, little, more = (
        flat_answer(soft_rig(case.vary({"suit.gas": gas}).rig)) for gas in ("0 l", "0.01 l", "0.02 l")
    )
    for name in ("pitch_moment", "pitch_stiffness", "suit_gas", "wing_gas"):
        first, second = (getattr(two, name) - getattr(one, name) for one, two in ((none, little), (little, more)))
        # each step alike but for the law's curve: as pressure goes with the inverse cube of what is left open
        assert first == pytest.approx(second, rel=0.05)


@pytest.mark.parametrize(("gas", "words"), [("0 l", "holds no gas"), ("0.5 l", "far too little gas, 0.50 l"),
                                            ("6 l", None)])  # fmt: skip
def test_scenario_says_what_is_wrong_with_the_suits_gas(gas, words):
    rig = Case.read(str(demo_path("small-woman-steel")), [f"suit.gas={gas}"]).assembled.rig
    soft = soft_rig(rig)
    flat = flat_answer(soft)
    assert flat.suit_gas > 0.5e-3  # what no pressure presses flat, at least
    told = [n for n in notes_of(rig, flat, equilibria(soft), None, None) if "gas" in n and "squeezed" in n]
    assert len(told) == (0 if words is None else 1)
    assert words is None or words in told[0]
