r"""The arithmetic of the fill laws, cell by cell: plain functions of numbers or of arrays.

``sim.fill_laws`` calls them with numpy arrays; ``sim.batch`` compiles these same functions for its inner loops, where
the three elementary functions below are swapped for ones that a processor can work out for eight cells at once.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from scipy.special import expit

Number = Any  # a float, or an array of floats; the same kind comes back


def sigmoid(t: Number) -> Number:
    """1 / (1 + e^-t)."""
    return expit(t)


def decay(t: Number) -> Number:
    """e^-t."""
    return np.exp(-t)


def inverse_cube_root(t: Number) -> Number:
    """t^(-1/3) for t >= 1."""
    return 1.0 / np.cbrt(t)


def loaded(difference: Number, preload: Number, scale: Number) -> tuple[Number, Number]:
    """What a cell's wall feels [Pa] under a preload [Pa], and the law's scale [Pa] there.

    A preload > 0 is a squeeze that the garment bears already, and is so much stiffer for; < 0 presses from outside.
    """
    return difference + preload, scale + 0.5 * (abs(preload) + preload)


def logistic_cell(difference: Number, softness: Number, least: Number, span: Number) -> tuple[Number, Number]:
    """Gas [m^3] and its slope [m^3/Pa] at a pressure difference [Pa]; softness [Pa], least, span [m^3]."""
    fill = sigmoid(difference / softness)
    # 1 - fill loses its digits in a taut cell, where the slope is of no account beside the others'
    return least + span * fill, span / softness * fill * (1.0 - fill)


def garment_cell(difference: Number, stiffness: Number, loft: Number, slack: Number) -> tuple[Number, Number]:
    """Gas [m^3] and its slope [m^3/Pa] at a pressure difference [Pa]; stiffness [Pa], loft, slack [m^3] > 0."""
    squeezed, blown, scale = garment_sides(difference, stiffness, loft, slack)
    return garment_held(squeezed, blown / scale, loft, slack, loft / (3.0 * stiffness))


def garment_numbers(stiffness: Number, loft: Number, slack: Number) -> tuple[Number, Number, Number]:
    """What no difference changes: 1/(2 P), 1/(2 q) [1/Pa] and V0/(3 P) [m^3/Pa]."""
    _, _, scale = garment_sides(0.0, stiffness, loft, slack)
    return 0.5 / stiffness, 0.5 / scale, loft / (3.0 * stiffness)


def garment_ready(
    difference: Number, squeezing: Number, blowing: Number, loft: Number, slack: Number, give: Number
) -> tuple[Number, Number]:
    """As ``garment_cell``, with the ``garment_numbers`` at hand."""
    size = abs(difference)
    return garment_held(1.0 + squeezing * (size - difference), blowing * (size + difference), loft, slack, give)


def garment_held(squeezed: Number, blown: Number, loft: Number, slack: Number, give: Number) -> tuple[Number, Number]:
    """Gas [m^3] and its slope [m^3/Pa] with the sides as they are, ``blown`` as a share of q; give : V0/(3 P)."""
    thinned = inverse_cube_root(squeezed)
    lifted = decay(blown)
    square = thinned * thinned
    return loft * thinned + slack * (1.0 - lifted), give * square * square * lifted


def garment_sides(
    difference: Number, stiffness: Number, loft: Number, slack: Number
) -> tuple[Number, Number, Number]:
    """1 - Delta/P on the squeezed side (1 elsewhere), Delta on the blown side (0 elsewhere), and q [Pa]."""
    size = abs(difference)
    squeezed = 1.0 + 0.5 * (size - difference) / stiffness
    return squeezed, 0.5 * (size + difference), 3.0 * stiffness * slack / loft
