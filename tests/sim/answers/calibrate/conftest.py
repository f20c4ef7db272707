"""A diver whose moment is a straight line in what is not known of it, so that everything has a closed form."""

from __future__ import annotations

import numpy as np
import pytest

from meshes.solid import point_mass
from sim.answers.calibrate.drawn_rigs import drawn_from
from sim.answers.calibrate.model import Model
from sim.answers.calibrate.time_law import BY_HAND
from sim.answers.check_bench.readings import Reading
from sim.answers.check_bench.situations import AS_TOLD
from sim.rig import Part, Water, rig_of
from sim.uncertainty.rig_numbers import VOLUME, numbers_of
from sim.uncertainty.variates import UncertainRig, Variate

WATER = Water(density=1000.0, gravity=10.0, pressure=2e5)
PER_SPREAD = (6.0, 3.0, 1.0, -2.0)  # N m of the moment for one SD of each unknown


@pytest.fixture
def linear():
    """Function of readings that gives their model on a neutral 100 kg float with the four unknowns above.

    Shifting the CB headward by dx turns head-up with rho g V dx = 1000 N m a metre.
    """

    def made(*readings: Reading, per_spread=PER_SPREAD) -> Model:
        rig = rig_of([Part("float", "body", point_mass(100.0, [0.0, 0.0, 0.0], 0.1))], WATER)
        base = numbers_of(rig)
        variates = []
        for i, slope in enumerate(per_spread):
            numbers = np.zeros_like(base)
            numbers[VOLUME.start + 1] = 0.1 * slope / 1000.0
            variates.append(Variate(f"unknown {i}", "", "normal", numbers))
        return Model({AS_TOLD: drawn_from(UncertainRig(rig, base, tuple(variates)))}, readings, BY_HAND, threads=1)

    return made


@pytest.fixture
def balance():
    """Function of a moment left and its SD [N m] that gives the reading of a balancing lead."""

    def read(value: float, sd: float = 2.0, name: str = "balance") -> Reading:
        return Reading(name, "balance", AS_TOLD, value, sd)

    return read
