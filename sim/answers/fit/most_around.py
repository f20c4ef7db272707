"""The greatest value within so many places of each place of a table."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats


def most_around(values: Floats, rows: int, columns: int) -> Floats:
    """Greatest (n, m) of the values (n, m) up to ``rows`` and ``columns`` away from each place.

    scipy's filter says the same, and takes a third of a second to import.
    """
    return _most_along(_most_along(values, rows).T, columns).T


def _most_along(values: Floats, reach: int) -> Floats:
    """Along the first axis, by windows twice as wide each time."""
    beyond = np.full((reach, values.shape[1]), -np.inf)
    most, wide, whole = np.concatenate([beyond, values, beyond]), 1, 2 * reach + 1
    while 2 * wide <= whole:
        most, wide = np.maximum(most[:-wide], most[wide:]), 2 * wide
    left = whole - wide
    return most if left == 0 else np.maximum(most[:-left], most[left:])
