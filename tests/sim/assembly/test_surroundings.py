"""The water round a diver, and the gases in what is worn."""

import CoolProp.CoolProp
import pytest

from scenarios.breathing import GasMix, SuitGas
from scenarios.water import Water
from sim.assembly.surroundings import inside_density, mixed, surroundings
from sim.breathing_gas import AIR


def water(**told):
    return surroundings(Water.model_validate(told))


def test_pressure_by_hand():
    """1 atm and 12 m of 1020 kg/m^3; standard gravity where nothing else is told."""
    found = water(density="1020 kg/m^3", depth="12 m")
    assert found.gravity == 9.80665
    assert found.density == 1020.0
    assert found.pressure == pytest.approx(101325.0 + 1020.0 * 9.80665 * 12.0, rel=1e-9)


def test_gravity_by_latitude_or_as_told():
    """WGS 84: 9.780 at the equator, 9.832 at the pole."""
    assert water(latitude="0 deg").gravity == pytest.approx(9.7803, abs=2e-4)
    assert water(latitude="90 deg").gravity == pytest.approx(9.8322, abs=2e-4)
    assert water(gravity="9.81 m/s^2").gravity == 9.81


def test_sea_water_is_denser_than_fresh_by_its_salt_and_a_little_more_at_depth():
    """35 g/kg at 10 C: 1026.95 kg/m^3 at the surface (UNESCO 44); 4.5e-6 more for each metre of depth."""
    at = {d: water(kind="sea", salinity="35 g/kg", temperature="10 °C", depth=f"{d} m").density for d in (1, 41)}
    assert at[1] == pytest.approx(1026.95, abs=0.2)
    assert at[41] / at[1] - 1.0 == pytest.approx(40 * 4.5e-6, rel=0.05)
    assert water(kind="fresh", temperature="10 °C").density == pytest.approx(999.7, abs=0.1)


def test_air_is_known_by_what_is_in_it():
    """Its rest is nitrogen with argon; by any other share of oxygen the rest is nitrogen alone."""
    assert mixed(GasMix.model_validate("air")) is AIR
    assert mixed(GasMix(name="what we breathe", oxygen=0.20946)) is AIR
    assert mixed(GasMix(name="air", oxygen=0.32)) is not AIR
    assert mixed(SuitGas(name="a mix", oxygen=0.20946, argon=0.5)) is not AIR


def test_argon_in_a_suit_is_as_dense_as_argon():
    place = water(depth="20 m")
    found = inside_density(mixed(SuitGas.model_validate("argon")), place, 283.15)
    expected = CoolProp.CoolProp.PropsSI("D", "T", 283.15, "P", place.pressure, "Argon")
    assert found == pytest.approx(expected, rel=1e-3)
