"""Every unit that may be written, both ways against pint, whose registry goes back to the BIPM and NIST SP 811."""

import functools

import pint
import pytest

from scenarios.unit_table import EXAMPLES, Dimension, Unit, units, units_of
from scenarios.units import exact_text, parse

# our spelling -> pint's; the SI unit of the dimension comes second
PINT = {
    "length": ({"um": "micrometer", "in": "inch", "ft": "foot", "yd": "yard"}, "m"),
    "mass": ({"t": "metric_ton", "st": "stone"}, "kg"),
    "volume": (
        {
            "cu ft": "foot**3",
            "cu in": "inch**3",
            "US gal": "US_liquid_gallon",
            "imp gal": "imperial_gallon",
            "m^3": "m**3",
            "mm^3": "mm**3",
        },
        "m**3",
    ),
    "pressure": ({}, "Pa"),
    "density": ({"lb/ft^3": "lb/foot**3", "lb/in^3": "lb/inch**3"}, "kg/m**3"),
    "temperature": ({"°C": "degC", "°F": "degF", "K": "kelvin"}, "kelvin"),
    "time": ({"d": "day", "h": "hour"}, "s"),
    "age": ({"years": "year", "months": "month"}, "year"),
    "angle": ({"deg": "degree"}, "radian"),
    "mass per area": ({"oz/yd^2": "ounce/yard**2", "lb/ft^2": "lb/foot**2"}, "kg/m**2"),
    "mass per length": ({"lb/ft": "lb/foot"}, "kg/m"),
    "speed": ({"kn": "knot", "ft/min": "foot/min", "km/h": "km/hour"}, "m/s"),
    "acceleration": ({"ft/s^2": "foot/s**2"}, "m/s**2"),
    "force": ({"kgf": "kilogram_force", "lbf": "pound_force"}, "N"),
    "flow": ({"l/min": "liter/minute", "cu ft/min": "foot**3/minute"}, "m**3/s"),
    "moment": ({"N m": "N*m", "kgf m": "kilogram_force*m", "lbf ft": "pound_force*foot"}, "N*m"),
    "fraction": ({"%": "percent"}, "dimensionless"),
    "salinity": ({}, ""),
}
CHECKED = [u for u in units() if u.dimension != "salinity"]


@functools.cache
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


def _pint_name(unit: Unit) -> str:
    return PINT[unit.dimension][0].get(unit.name, unit.name.replace("^", "**"))


@pytest.mark.parametrize("unit", CHECKED, ids=lambda u: f"{u.dimension} {u.name}")
@pytest.mark.parametrize("number", [1.0, 7.25])
def test_reads_as_pint_does(unit, number):
    ours = parse(unit.dimension, f"{number} {unit.name}")
    theirs = registry().Quantity(number, _pint_name(unit))
    if unit.name == "cmH2O":  # pint's is water at 3.98 °C; the conventional one is 10 kgf/m^2
        theirs = registry().Quantity(10.0 * number, "kilogram_force/m**2")
    expected = theirs.to(PINT[unit.dimension][1]).magnitude
    # both multiply doubles, a few roundings apart; offsets of temperatures lose one digit more
    assert ours == pytest.approx(expected, rel=3e-15 if unit.offset == 0.0 else 1e-14)


@pytest.mark.parametrize("unit", CHECKED, ids=lambda u: f"{u.dimension} {u.name}")
def test_goes_back_as_pint_does(unit):
    si = registry().Quantity(320.0, PINT[unit.dimension][1])
    # 320 in SI units, well away from the zeros of the temperature scales
    expected = (
        si.to("kilogram_force/m**2").magnitude / 10.0 if unit.name == "cmH2O" else si.to(_pint_name(unit)).magnitude
    )
    assert (320.0 - unit.offset) / unit.factor == pytest.approx(expected, rel=1e-13)


@pytest.mark.parametrize("unit", units(), ids=lambda u: f"{u.dimension} {u.name}")
def test_every_spelling_means_the_same(unit):
    values = {parse(unit.dimension, f"3.5 {name}") for name in unit.names if name not in ("'", '"')}
    assert len(values) == 1


def test_no_spelling_has_two_meanings_in_one_dimension():
    for dimension in EXAMPLES:
        names = [n for u in units_of(dimension) for n in u.names]
        assert len(names) == len(set(names))


def test_salinity_is_on_the_practical_scale():
    # Reference-Composition Salinity of standard seawater (Millero et al. 2008): 35.16504 g/kg at SP 35
    assert parse("salinity", "35.16504 g/kg") == pytest.approx(35.0, rel=1e-15)
    assert parse("salinity", "7 PSU") == 7.0


@pytest.mark.parametrize("dimension", list(EXAMPLES))
def test_examples_can_be_read(dimension: Dimension):
    value = parse(dimension, EXAMPLES[dimension])
    # one unit in the last place is lost where the unit's factor is no power of two
    assert parse(dimension, exact_text(dimension, value)) == pytest.approx(value, rel=3e-16)
