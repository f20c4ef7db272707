"""A diver made by hand for the room ``seen``: few unknowns, round numbers, nothing assembled."""

from __future__ import annotations

import numpy as np
import pytest

from sim.answers.posture.posture import Posture
from sim.answers.posture.runaway import Turning
from sim.answers.seen.diver import WORKED, HeadRoom, Moments, SeenDiver
from sim.answers.seen.levers import TO_ANKLES, TO_SHOULDERS, Levers
from sim.rig import Part, Water, rig_of
from sim.uncertainty.rig_numbers import numbers_of
from sim.uncertainty.variates import UncertainRig, Variate

MIDDLE, SPREAD = -3.0, 6.0  # N m


def made(middle: float = MIDDLE, *, situations: int = 1, dry: bool = True) -> SeenDiver:
    from meshes.solid import point_mass

    rig = rig_of([Part("float", "body", point_mass(100.0, np.zeros(3), 0.1))], Water(1000.0, 10.0, 2e5))
    nothing = np.zeros(len(numbers_of(rig)))
    variates = (Variate("balance", "", "normal", nothing), Variate("height of the plate", "", "normal", nothing))
    return SeenDiver(
        unknown=UncertainRig(rig, numbers_of(rig), variates),
        moments=Moments(
            np.full(situations, middle), np.array([[SPREAD] * situations, [0.0] * situations]),
            np.zeros((WORKED, situations)), np.array([0.0, 0.01]),
        ),
        turning=Turning(60.0, 150.0, -15.0, ((12.0, 2.0),)),
        posture=Posture(
            middle, "has to be held", 2.0, -2.0, 2.0, -6.0, 8.0, (), 1.6, None, -27.0, 1.0,
        ),
        head=HeadRoom(neck=1.05, gear=1.0, gear_per_raise=-4.0, eyes=0.36),
        levers=Levers(
            raise_rig=-40.0, vented=4.0, straight=-3.0, feet=-6000.0, feet_straight=-11000.0, shoulders=2500.0,
            lead_mass=4.0, lead_place=-20.0, lead=2.0, pressure=1.5e-7, full=2e7,
            kilogram={TO_ANKLES: 4.0, TO_SHOULDERS: -3.0}, legs_gas=0.3e-3,
        ),
        fins=(-0.6, 0.5),
        gaiters=(False,) * situations,
        dry=dry,
        rig=True,
    )  # fmt: skip


@pytest.fixture
def diver() -> SeenDiver:
    return made()
