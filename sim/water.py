"""Density, gravity and pressure of the water around the diver.

Density by TEOS-10 (IOC, SCOR and IAPSO 2010, The international thermodynamic equation of seawater) through the gsw
library; valid from fresh water to brine, -6 to 40 C, to 10,000 dbar.
"""

from __future__ import annotations

from typing import Final

from scipy.constants import atm, zero_Celsius

PASCAL_PER_DBAR: Final = 1e4
REFERENCE_SALINITY: Final = 35.16504 / 35.0  # g/kg a unit of practical salinity (Millero et al. 2008)


def density(practical_salinity: float, temperature: float, gauge_pressure: float = 0.0) -> float:
    """Density [kg/m^3] of water in place.

    practical_salinity : on PSS-78, 0 (fresh) to 42; 35 is the open ocean, the Baltic about 7
    temperature : in place, absolute [K], ITS-90, 267 to 313
    gauge_pressure : above one standard atmosphere [Pa], 0 to 1e8

    The salts are taken to be in the ocean's proportions: gsw's full equation (not its fit to the ocean's own
    temperatures and salinities, which is off by 0.08 kg/m^3 for deep lakes). A lake whose salts differ, and the
    Baltic, are then up to 0.05 kg/m^3 off.
    Raises ValueError outside these ranges.
    """
    celsius = temperature - zero_Celsius
    if not 0.0 <= practical_salinity <= 42.0:
        raise ValueError(f"practical salinity must be between 0 (fresh) and 42, got {practical_salinity}")
    if not -6.0 <= celsius <= 40.0:
        raise ValueError(f"water temperature must be between -6 and 40 C, got {celsius:.2f} C")
    if not 0.0 <= gauge_pressure <= 1e8:
        raise ValueError(f"gauge pressure must be between 0 and 1e8 Pa, got {gauge_pressure} Pa")
    import gsw

    salinity = practical_salinity * REFERENCE_SALINITY
    return float(gsw.rho_t_exact(salinity, celsius, gauge_pressure / PASCAL_PER_DBAR))


def gravity(latitude: float) -> float:
    """Gravity [m/s^2] at the sea's surface at a latitude [degrees, north plus], GRS 80 by gsw.

    Raises ValueError unless the latitude lies between -90 and 90. A lake 1000 m up has 0.003 m/s^2 less.
    """
    if not -90.0 <= latitude <= 90.0:
        raise ValueError(f"latitude must be between -90 and 90 degrees, got {latitude}")
    import gsw

    return float(gsw.grav(latitude, 0.0))


def pressure(depth: float, density: float, gravity: float, surface: float = atm) -> float:
    """Absolute pressure [Pa] at a depth [m] in water of uniform density [kg/m^3].

    gravity : [m/s^2];  surface : air pressure at the surface [Pa], less in mountain lakes
    Uniform density is right to 1e-4 of the depth's share at 60 m. Raises ValueError for a negative depth or a
    density, gravity or surface pressure that is not positive.
    """
    if not depth >= 0.0:
        raise ValueError(f"depth must be >= 0 m, got {depth} m")
    if not (density > 0.0 and gravity > 0.0 and surface > 0.0):
        raise ValueError(f"density, gravity and surface pressure must be > 0, got {density}, {gravity}, {surface}")
    return surface + density * gravity * depth
