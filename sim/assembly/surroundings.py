"""The water around a scenario's diver: density, gravity and pressure where the diver is held."""

from __future__ import annotations

import math

from meshes.memoized import memoized_on_body
from scenarios.breathing import AIR_OXYGEN, GasMix, SuitGas
from scenarios.water import Water as WaterTable
from sim.breathing_gas import AIR, Gas, gas_density, mixture
from sim.rig import STANDARD_GRAVITY, Water
from sim.water import density, gravity, pressure


@memoized_on_body
def surroundings(table: WaterTable) -> Water:
    """Water at the diver's depth; density from salinity and temperature (TEOS-10) unless it was measured."""
    latitude = table.latitude
    g = table.gravity if table.gravity is not None else STANDARD_GRAVITY
    if latitude is not None:
        g = gravity(math.degrees(latitude))
    # the water above is 0.05 % less dense than at the diver: 1e-4 of the pressure, so one density serves for both
    rho = table.density
    if rho is None:
        near_surface = density(table.salinity_or_usual, table.temperature)
        rho = density(table.salinity_or_usual, table.temperature, near_surface * g * table.depth)
    return Water(rho, g, pressure(table.depth, rho, g, table.surface_pressure))


def mixed(mix: GasMix | SuitGas) -> Gas:
    """The gas of a scenario: with the oxygen of air and nothing added it is air, whose rest is not all nitrogen."""
    argon = mix.argon if isinstance(mix, SuitGas) else 0.0
    if mix.oxygen == AIR_OXYGEN and mix.helium == argon == 0.0:
        return AIR
    return mixture(mix.oxygen, mix.helium, argon)


def inside_density(gas: Gas, water: Water, temperature: float) -> float:
    """Density [kg/m^3] of the gas in suit or wing at the diver's depth and the water's temperature [K]."""
    return gas_density(gas, water.pressure, temperature)
