"""Texts as people type them: each is read right or refused with what to write."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scenarios.unit_table import EXAMPLES
from scenarios.units import LONGEST, Measured, UnitError, exact_text, other_readings, parse, parse_measured, shown_in

FOOT, INCH, POUND = 0.3048, 0.0254, 0.45359237  # exact, international yard and pound 1959

READ = [
    ("length", "166 cm", 1.66),
    ("length", "5 ft 5 in", 5 * FOOT + 5 * INCH),
    ("length", "5'5\"", 5 * FOOT + 5 * INCH),
    ("length", "5'5", 5 * FOOT + 5 * INCH),
    ("length", "5′ 5.5″", 5 * FOOT + 5.5 * INCH),
    ("length", "5 feet 5 inches", 5 * FOOT + 5 * INCH),
    ("length", "-5 ft 5 in", -5 * FOOT - 5 * INCH),
    ("length", "1 m 66 cm", 1.66),
    ("length", "1/2 in", 0.0127),
    ("length", "5 1/2 in", 5.5 * INCH),
    ("length", "5½ in", 5.5 * INCH),
    ("length", "½ in", 0.0127),
    ("length", '11"', 11 * INCH),
    ("length", " 166cm ", 1.66),
    ("length", "1.66e2 cm", 1.66),
    ("length", "+.5 m", 0.5),
    ("length", "166\u00a0cm", 1.66),
    ("mass", "58 kg", 58.0),
    ("mass", "58 Kg", 58.0),
    ("mass", "11 st 4 lb", 158 * POUND),
    ("mass", "128 lbs", 128 * POUND),
    ("volume", "1.2e-05 m^3", 1.2e-05),
    ("volume", "0.3043 l", 3.043e-4),
    ("volume", "12 L", 0.012),
    ("volume", "10 m³", 10.0),
    ("volume", "80 cu ft", 80 * FOOT**3),
    ("pressure", "3000 psi", 3000 * POUND * 9.80665 / INCH**2),
    ("pressure", "3000 PSI", 3000 * POUND * 9.80665 / INCH**2),
    ("pressure", "232 bar", 232e5),
    ("pressure", "252153.75 Pa", 252153.75),
    ("pressure", "0.5 MPa", 5e5),
    ("density", "1025 kg/m³", 1025.0),
    ("density", "1025 kg/m3", 1025.0),
    ("density", "1025 kg m^-3", 1025.0),
    ("density", "1025 kg·m⁻³", 1025.0),
    ("density", "1025 kg / m^3", 1025.0),
    ("density", "1.025 g/cm**3", 1025.0),
    ("density", "1.025 kg per litre", 1025.0),
    ("temperature", "20 °C", 293.15),
    ("temperature", "−3 degC", 270.15),
    ("temperature", "50 °F", 283.15),
    ("temperature", "283.15 K", 283.15),
    ("acceleration", "9.81 m/s²", 9.81),
    ("moment", "5 Nm", 5.0),
    ("moment", "5 N·m", 5.0),
    ("angle", "180°", math.pi),
    ("time", "1 min 30 s", 90.0),
    ("fraction", "24 %", 0.24),
    ("age", "34 years", 34.0),
    ("mass per area", "450 g/m²", 0.45),
]


@pytest.mark.parametrize(("dimension", "text", "value"), READ, ids=[t for _, t, _ in READ])
def test_reads(dimension, text, value):
    # a few roundings of a double: factor, sum of two terms, offset
    assert parse(dimension, text) == pytest.approx(value, rel=4e-16)


def test_decimal_multiples_read_to_the_last_bit():
    assert parse("length", "166 cm") == 1.66
    assert parse("volume", "30.027 l") == 0.030027
    assert parse("length", "171 mm") == 0.171


REFUSED = [
    ("length", "166", "has no unit"),
    ("length", "", "empty"),
    ("length", "tall", "not understood as a length"),
    ("length", "cm", "not understood"),
    ("mass", "12,5 kg", '"12.5 kg"'),
    ("length", "0,5 mm", '"0.5 mm"'),
    ("mass", "1,000 kg", '"1.000 kg" or "1000 kg"'),
    ("length", "1.000,5 mm", "comma"),
    ("pressure", "3 000 psi", "blank inside a number"),
    ("temperature", "4 psi", '"psi" is a unit of pressure, not of temperature'),
    ("force", "5 N m", '"N m" is a unit of moment, not of force'),
    ("length", "5 m2", '"m2" is no unit known here'),
    ("mass", "5 kgs", 'did you mean "kg"?'),
    ("pressure", "5 mpa", "no unit known here"),
    ("pressure", "5 mPa", "no unit known here"),
    ("length", "nan m", "not understood"),
    ("length", "inf m", "not understood"),
    ("length", "1e999 m", "too large"),
    ("length", "1/0 m", "no number"),
    ("length", "5 ft 15 in", "15 in does not lie between 0 and 1 ft"),
    ("length", "5.5 ft 2 in", "two numbers"),
    ("length", "5 ft 5 m", "two numbers"),
    ("length", "1 m 2 cm 3 mm", "not understood"),
    ("length", "5² m", "superscript"),
    ("mass", "58 kg kg", "no unit known here"),
    ("mass", "1_000 kg", "no unit known here"),
    ("mass", "0x10 kg", "no unit known here"),
    ("length", "٣ m", "not understood"),
    ("length", "5 m" + " " * LONGEST, "too long"),
    ("mass", "57 +- 0.5 +- 1 kg", "spread is written once"),
    ("mass", "57 +- kg", "no unit"),
    ("mass", "57 kg +- -1 kg", "negative"),
    ("mass", "±1 kg", "spread is written once"),
]


@pytest.mark.parametrize(("dimension", "text", "says"), REFUSED, ids=[t[:20] for _, t, _ in REFUSED])
def test_refuses_with_what_to_write(dimension, text, says):
    with pytest.raises(UnitError) as refused:
        parse(dimension, text)
    assert says in str(refused.value)


SPREAD = [
    ("mass", "57 +- 0.5 kg", 57.0, 0.5),
    ("mass", "57 kg ± 500 g", 57.0, 0.5),
    ("mass", "57 kg +/- 2 %", 57.0, 1.14),
    ("length", "166 cm ± 1", 1.66, 0.01),
    ("temperature", "10 ± 2 °C", 283.15, 2.0),
    ("temperature", "50 ± 9 °F", 283.15, 5.0),
    ("fraction", "24 ± 3 %", 0.24, 0.03),
    ("mass", "57 kg", 57.0, None),
]


@pytest.mark.parametrize(("dimension", "text", "value", "sd"), SPREAD, ids=[t for _, t, _, _ in SPREAD])
def test_reads_a_spread(dimension, text, value, sd):
    read = parse_measured(dimension, text)
    assert read.value == pytest.approx(value, rel=1e-15)
    assert read.sd == (None if sd is None else pytest.approx(sd, rel=1e-15))


def test_a_slip_of_the_unit_is_among_the_other_readings():
    assert ("166 cm", 1.66) in other_readings("length", "166 m")
    assert other_readings("length", "no number") == []


@given(st.sampled_from(list(EXAMPLES)), st.text(max_size=30))
def test_any_text_is_read_or_refused(dimension, text):
    try:
        value = parse(dimension, text)
    except UnitError:
        return
    assert math.isfinite(value)


TYPED = st.text(alphabet="0123456789.,-+±/eE '\"cmftinkglb°^³µ% ", max_size=16)


@given(st.sampled_from(["length", "mass", "temperature"]), TYPED)
def test_texts_like_quantities_are_read_or_refused(dimension, text):
    try:
        read = parse_measured(dimension, text)
    except UnitError:
        return
    assert math.isfinite(read.value)
    assert read.sd is None or read.sd >= 0.0


@given(st.sampled_from(list(EXAMPLES)), st.floats(1e-6, 1e6))
def test_exact_text_reads_back(dimension, value):
    # exact in SI units; a percentage is multiplied and divided by 100, two roundings
    assert parse(dimension, exact_text(dimension, value)) == pytest.approx(value, rel=5e-16)


@pytest.mark.parametrize(
    ("dimension", "value", "text"),
    [("length", 1.66, "166 cm"), ("length", 0.003, "3 mm"), ("pressure", 2.32e7, "232 bar"),
     ("volume", 0.012, "12 l"),
     ("temperature", 283.15, "10 °C"), ("mass", 0.05, "50 g"), ("pressure", 570.0, "570 Pa")],
)  # fmt: skip
def test_shows_the_unit_a_person_would_choose(dimension, value, text):
    assert shown_in(dimension, value) == text


def test_a_measured_value_without_spread_says_so():
    assert Measured(1.0).sd is None
