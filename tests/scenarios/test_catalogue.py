"""The catalogue: everything the trade has a name for, no number without its source, every entry usable."""

import re

import pytest

from scenarios.catalogue import entries, entry, sections
from scenarios.reading import scenario_of

DIVER = {"sex": "female", "height": "166 cm", "mass": "58 kg"}
ALL = [(section, name) for section in sections() for name in entries(section)]


def test_what_must_be_there():
    assert set(entries("plate")) == {
        f"{s} {m}" for s in ("standard", "small") for m in ("steel", "aluminium", "carbon")
    }
    steel = {f"steel {v} l {p} bar" for v in ("7", "8.5", "10", "12", "15") for p in (232, 300)}
    assert steel | {"aluminium 5.7 l 207 bar", "aluminium 11.1 l 207 bar"} <= set(entries("cylinders"))
    assert {"trilaminate", "crushed neoprene", "wetsuit 3 mm", "wetsuit 5 mm", "wetsuit 7 mm"} == set(entries("suit"))
    assert set(entries("undergarment")) == {"thin", "medium", "heavy"}
    assert {"single", "twin"} <= set(entries("wing"))
    assert {"attached rubber", "rock boots", "neoprene"} <= set(entries("boots"))
    assert set(entries("fins")) == {"rubber", "plastic"}


@pytest.mark.parametrize(("section", "name"), ALL, ids=[f"{s}: {n}" for s, n in ALL])
def test_every_number_has_a_source(section, name):
    found = entry(section, name)
    assert found.summary
    with_numbers = {k for k, v in found.values.items() if isinstance(v, str) and re.match(r"[-0-9]", v)}
    assert with_numbers <= set(found.sources)
    assert all(source for source in found.sources.values())


@pytest.mark.parametrize(("section", "name"), ALL, ids=[f"{s}: {n}" for s, n in ALL])
def test_every_entry_can_be_worn(section, name):
    if section == "regulators":
        tables = {"cylinders": {"catalogue": "steel 12 l 232 bar", "regulators": name}}
        assert scenario_of({"diver": DIVER, **tables}).cylinders.regulators.catalogue == name
    elif section == "undergarment":
        tables = {"suit": {"catalogue": "trilaminate", "undergarment": name}}
        assert scenario_of({"diver": DIVER, **tables}).suit.undergarment.catalogue == name
    elif section == "boots":
        for suit in ("trilaminate", "wetsuit 5 mm"):
            assert (
                scenario_of({"diver": DIVER, "suit": {"catalogue": suit, "boots": name}}).suit.boots.catalogue == name
            )
    elif section == "gear":
        assert scenario_of({"diver": DIVER, "gear": [name]}).gear[0].catalogue == name
    else:
        assert getattr(scenario_of({"diver": DIVER, section: name}), section).catalogue == name


@pytest.mark.parametrize("name", entries("cylinders"))
def test_cylinders_are_named_by_what_they_are(name):
    cylinders = scenario_of({"diver": DIVER, "cylinders": f"twin {name}"}).cylinders
    metal, litres, bars = re.match(r"(\w+) ([\d.]+) l (\d+) bar", name).groups()
    assert cylinders.material == metal
    assert cylinders.water_capacity == pytest.approx(float(litres) / 1000, rel=1e-15)
    assert cylinders.working_pressure == pytest.approx(float(bars) * 1e5, rel=1e-15)
    # a cylinder's water capacity fits into its outside: longer than wide, shorter than a back
    assert 1.5 < cylinders.water_capacity / (0.785 * cylinders.outer_diameter**3) < 6.0


def test_undergarments_follow_van_wyk():
    """Thickness at 0.5 kPa as assumed: 5.9, 8.1, 11.0 mm of 7, 10, 14 mm (stiffness is written to two digits)."""
    for name, squeezed in (("thin", 5.9e-3), ("medium", 8.1e-3), ("heavy", 11.0e-3)):
        garment = scenario_of(
            {"diver": DIVER, "suit": {"catalogue": "trilaminate", "undergarment": name}}
        ).suit.undergarment
        thickness = garment.loft * (1.0 + 500.0 / garment.stiffness) ** (-1.0 / 3.0)
        assert thickness == pytest.approx(squeezed, abs=0.05e-3)  # half the last digit given


def test_foam_of_wetsuits_is_halved_at_about_15_m():
    from sim.foam import gas_share, thickness_ratio

    for name in ("wetsuit 3 mm", "wetsuit 5 mm", "wetsuit 7 mm"):
        suit = scenario_of({"diver": DIVER, "suit": name}).suit
        ratio = thickness_ratio(101325.0 + 1025.0 * 9.81 * 15.0, gas_share(suit.foam_density), suit.foam_stiffness)
        assert ratio == pytest.approx(0.5, abs=0.1)  # "about a half" is all that is published


def test_an_unknown_name_gets_the_nearest():
    with pytest.raises(
        ValueError, match='"stel 12 l 232 bar" is not in the catalogue of cylinders; did you mean "steel 12'
    ):
        entry("cylinders", "stel 12 l 232 bar")
    with pytest.raises(ValueError, match='did you mean "twin steel 12 l 232 bar"'):
        entry("cylinders", "twin stel 12 l 232 bar")


def test_blanks_and_capitals_do_not_matter():
    assert entry("plate", " Small  CARBON ") is entries("plate")["small carbon"]


def test_entries_cannot_be_changed():
    with pytest.raises(TypeError):
        entry("plate", "small carbon").values["thickness"] = "9 mm"
