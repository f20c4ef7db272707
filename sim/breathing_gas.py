"""What the gas in a cylinder weighs, as a real gas.

Equation of state: GERG-2008 (Kunz and Wagner 2012, J. Chem. Eng. Data 57:3032) through the teqp library. For dry
air and nitrox to 30 MPa it is good for about 0.2 % in density; for mixtures with helium about 0.5 %, since no
measurements of helium with oxygen lie behind it (heliox 21/79 parts by 1.1 % from a newer equation).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats

ITERATIONS: Final = 60
COMPONENTS: Final = ("oxygen", "nitrogen", "helium", "argon")
MOLAR_MASSES: Final = (0.0319988, 0.0280134, 0.004002602, 0.039948)  # kg/mol, as in GERG-2008


@dataclass(frozen=True)
class Gas:
    """A dry gas, breathed or inflating a suit, by mole fractions (0 to 1), which add up to 1."""

    oxygen: float
    nitrogen: float
    helium: float = 0.0
    argon: float = 0.0


AIR: Final = Gas(oxygen=0.2096, nitrogen=0.7812, argon=0.0092)  # dry, without CO2 (Lemmon et al. 2000, JPCRD 29:331)


def mixture(oxygen: float, helium: float = 0.0, argon: float = 0.0) -> Gas:
    """Nitrox (``oxygen`` alone), trimix or argon, by mole fractions; the rest is nitrogen.

    Nitrox 32 is ``mixture(0.32)``, trimix 18/45 ``mixture(0.18, 0.45)``. The argon that comes with air is counted
    as nitrogen, which makes nitrox up to 0.3 % too light.
    Raises ValueError unless all are between 0 and 1 and add up to at most 1.
    """
    if not all(0.0 <= share <= 1.0 for share in (oxygen, helium, argon)):
        raise ValueError(f"fractions must lie between 0 and 1, got oxygen {oxygen}, helium {helium}, argon {argon}")
    nitrogen = 1.0 - oxygen - helium - argon
    if not nitrogen >= -1e-9:
        raise ValueError(f"oxygen {oxygen}, helium {helium} and argon {argon} add up to more than 1")
    return Gas(oxygen=oxygen, nitrogen=max(nitrogen, 0.0), helium=helium, argon=argon)


def molar_mass(gas: Gas) -> float:
    """Molar mass [kg/mol]."""
    return float(_fractions(gas) @ MOLAR_MASSES)


@lru_cache(maxsize=256)
def gas_density(gas: Gas, pressure: float, temperature: float) -> float:
    """Density [kg/m^3] at an absolute pressure [Pa] and a temperature [K].

    Range: 0 to 50 MPa (a 300 bar fill on a hot day included), 250 to 350 K; GERG-2008's own normal range ends at
    35 MPa. A gauge reads about 0.1 MPa less than the absolute pressure. Raises ValueError outside.
    """
    if not 0.0 <= pressure <= 50e6:
        raise ValueError(f"pressure must be between 0 and 50e6 Pa (500 bar) absolute, got {pressure} Pa")
    if not 250.0 <= temperature <= 350.0:
        raise ValueError(f"gas temperature must be between 250 and 350 K, got {temperature} K")
    return molar_mass(gas) * _molar_density(_fractions(gas), pressure, temperature)


def fill_mass(gas: Gas, water_capacity: float, pressure: float, temperature: float) -> float:
    """Mass [kg] of gas in a cylinder of ``water_capacity`` [m^3]; pressure absolute [Pa], temperature [K]."""
    if not water_capacity > 0.0:
        raise ValueError(f"water capacity must be > 0 m^3, got {water_capacity} m^3")
    return water_capacity * gas_density(gas, pressure, temperature)


def _fractions(gas: Gas) -> Floats:
    shares = np.array([gas.oxygen, gas.nitrogen, gas.helium, gas.argon])
    if not ((shares >= 0.0).all() and abs(shares.sum() - 1.0) < 1e-6):
        raise ValueError(f"mole fractions must be >= 0 and add up to 1, got {gas}")
    return np.asarray(shares / shares.sum())


@lru_cache(maxsize=1)
def _equation() -> Any:
    import teqp

    return teqp.make_model({"kind": "GERG2008resid", "model": {"names": list(COMPONENTS)}})


def _molar_density(shares: Floats, pressure: float, temperature: float) -> float:
    """Root n [mol/m^3] of n R T Z(n) = pressure.

    None of these gases can condense above 250 K, so the pressure rises with n and the root is the only one;
    Newton from the ideal gas, kept inside a bracket. Z lies between 0.9 and 2 throughout the range.
    """
    if pressure == 0.0:
        return 0.0
    equation = _equation()
    kinetic = float(equation.get_R(shares)) * temperature
    low, high = 0.4 * pressure / kinetic, 1.3 * pressure / kinetic
    n = pressure / kinetic
    for _ in range(ITERATIONS):
        first, second = equation.get_Ar01(temperature, n, shares), equation.get_Ar02(temperature, n, shares)
        excess = n * kinetic * (1.0 + first) - pressure
        if abs(excess) <= 1e-12 * pressure:
            break
        low, high = (low, n) if excess > 0.0 else (n, high)
        step = n - excess / (kinetic * (1.0 + 2.0 * first + second))
        n = step if low < step < high else 0.5 * (low + high)
    return float(n)
