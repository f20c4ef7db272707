r"""How thin neoprene gets under pressure.

A closed-cell foam of gas and solid rubber: the gas is squeezed by Boyle's law, the cell walls carry the rest,

    p0 / (1 - e/phi) + K e = p,     thickness / t0 = 1 - e,

with p0 the pressure at which the thickness was measured, phi the share of gas in the foam and K the stiffness of
the walls. Own formula: isothermal gas beside an elastic matrix. K between 0 and 1 bar agrees with "thickness about
halved at 15 m" (common knowledge of wetsuits); K has not been measured, so treat the result as good for 15 %.
"""

from __future__ import annotations

import math
from typing import Final

from scipy.constants import atm

RUBBER_DENSITY: Final = 1300.0  # kg/m^3, solid polychloroprene compound, from memory (1300 to 1450)
WALL_STIFFNESS: Final = 1e5  # Pa, see above


def gas_share(foam_density: float, rubber_density: float = RUBBER_DENSITY) -> float:
    """Share of gas in the volume of a foam (0 to 1) from the densities [kg/m^3] of foam and solid rubber."""
    if not 0.0 < foam_density <= rubber_density:
        raise ValueError(
            f"foam density must be above 0 and at most the rubber's {rubber_density} kg/m^3, got {foam_density}"
        )
    return 1.0 - foam_density / rubber_density


def thickness_ratio(
    pressure: float,
    share: float,
    wall_stiffness: float = WALL_STIFFNESS,
    reference: float = atm,
) -> float:
    """Thickness at an absolute pressure [Pa] over that at the ``reference`` pressure [Pa].

    share : of gas in the foam's volume at the reference, 0 to 1 (about 0.86 for 180 kg/m^3, 0.35 crushed)
    wall_stiffness : K [Pa], >= 0
    Sound from the reference up to about 1 MPa (90 m); new foam, no lasting set. Works a little below the
    reference too (a mountain lake): the foam swells. Raises ValueError for values outside their ranges.
    """
    if not 0.0 <= share < 1.0:
        raise ValueError(f"the share of gas must lie between 0 and 1, got {share}")
    if not (pressure > 0.0 and reference > 0.0 and wall_stiffness >= 0.0):
        raise ValueError(
            f"pressures must be > 0 and the wall stiffness >= 0 Pa, got {pressure}, {reference}, {wall_stiffness}"
        )
    if share == 0.0:
        return 1.0
    # with f = 1 - e/phi the gas volume left over: p0/f + K phi (1 - f) = p, so K phi f^2 + (p - K phi) f - p0 = 0;
    # its positive root, written so that K -> 0 gives Boyle's p0/p without cancelling
    stiff = wall_stiffness * share
    rest = pressure - stiff
    root = math.sqrt(rest**2 + 4.0 * stiff * reference)
    left = 2.0 * reference / (rest + root) if rest >= 0.0 else (root - rest) / (2.0 * stiff)
    return 1.0 - share * (1.0 - left)
