"""Real-gas density against an independent library, and its limits."""

import math

import CoolProp
import numpy as np
import pytest

from sim.breathing_gas import AIR, Gas, fill_mass, gas_density, mixture, molar_mass

GAS_CONSTANT = 8.314472  # J/(mol K), the value GERG-2008 was fitted with


def reference_density(names, fractions, pressure, temperature):
    state = CoolProp.AbstractState("HEOS", names)
    state.set_mole_fractions(fractions)
    state.specify_phase(CoolProp.iphase_gas)
    state.update(CoolProp.PT_INPUTS, pressure, temperature)
    return state.rhomass()


@pytest.mark.parametrize("temperature", [277.15, 293.15, 303.15])
@pytest.mark.parametrize("bar", [50.0, 200.0, 300.0])
def test_air_agrees_with_the_reference_equation_within_half_a_percent(bar, temperature):
    # Lemmon et al. 2000 is itself good for 0.1 %, GERG-2008 for 0.1 to 0.2 %
    state = CoolProp.AbstractState("HEOS", "Air")
    state.update(CoolProp.PT_INPUTS, bar * 1e5, temperature)
    assert gas_density(AIR, bar * 1e5, temperature) == pytest.approx(state.rhomass(), rel=5e-3)


@pytest.mark.parametrize(("oxygen", "helium"), [(0.18, 0.45), (0.21, 0.35), (0.10, 0.70)])
def test_trimix_agrees_with_an_independent_library(oxygen, helium):
    expected = reference_density("Oxygen&Helium&Nitrogen", [oxygen, helium, 1.0 - oxygen - helium], 200e5, 293.15)
    assert gas_density(mixture(oxygen, helium), 200e5, 293.15) == pytest.approx(expected, rel=5e-3)


@pytest.mark.parametrize("gas", [AIR, mixture(0.32), mixture(0.18, 0.45), mixture(1.0), mixture(0.0, 1.0)])
def test_thin_gas_is_ideal(gas):
    # at 100 Pa the second virial term B n is below 1e-6 for all of these (|B| < 2e-5 m^3/mol, n = 0.04 mol/m^3)
    ideal = 100.0 * molar_mass(gas) / (GAS_CONSTANT * 293.15)
    assert gas_density(gas, 100.0, 293.15) == pytest.approx(ideal, rel=1e-6)


def test_density_rises_with_pressure_over_the_whole_range():
    for gas in (AIR, mixture(1.0), mixture(0.1, 0.7)):
        for temperature in (250.0, 350.0):
            densities = [gas_density(gas, float(p), temperature) for p in np.linspace(0.0, 50e6, 40)]
            assert (np.diff(densities) > 0.0).all()


def test_fill_mass_is_capacity_times_density():
    assert fill_mass(AIR, 0.012, 233e5, 293.15) == pytest.approx(0.012 * gas_density(AIR, 233e5, 293.15), rel=1e-15)


@pytest.mark.parametrize(
    "call",
    [
        lambda: mixture(1.2),
        lambda: mixture(0.6, 0.6),
        lambda: mixture(math.nan),
        lambda: gas_density(AIR, -1.0, 293.15),
        lambda: gas_density(AIR, math.nan, 293.15),
        lambda: gas_density(AIR, 1e5, 20.0),
        lambda: gas_density(AIR, 1e5, math.nan),
        lambda: gas_density(Gas(0.5, 0.2), 1e5, 293.15),
        lambda: gas_density(Gas(math.nan, 1.0), 1e5, 293.15),
        lambda: fill_mass(AIR, 0.0, 1e5, 293.15),
    ],
)
def test_nonsense_is_refused(call):
    with pytest.raises(ValueError, match=r"must|add up"):
        call()
