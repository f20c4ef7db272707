"""Invented rigs for the settling tests."""

import numpy as np
import pytest

from meshes.solid import Solid
from sim.fill_laws import garment_law, logistic_law
from sim.rig import Part, SuitPocket, Water, WingPocket, rig_of
from sim.statics.field import field, soft_rig

DENSITIES = {"body": 1045.0, "cylinder": 1150.0, "fins": 1150.0, "lead": 11000.0, "plate": 7900.0}
MASSES = {"body": 15.0, "cylinder": 13.0, "fins": 1.2, "lead": 2.0, "plate": 3.0}
COUNTS = {"body": 5, "cylinder": 2, "fins": 2, "lead": 2, "plate": 1}


def ball_inertia(mass, semi):
    """Inertia of a homogeneous ellipsoid with semi-axes ``semi`` along the axes."""
    squares = np.asarray(semi) ** 2
    return mass / 5.0 * np.diag(squares.sum() - squares)


def pendulum_rig(mass=120.0, semi=(0.7, 0.2, 0.15), above=0.02, density=1025.0, offset=0.0, held=None):
    """A neutral ellipsoid whose CB lies ``above`` its CM [m], and ``offset`` headward of it."""
    cm = np.array([0.1, 0.0, 0.05])
    solid = Solid(mass, cm, ball_inertia(mass, semi), mass / density, cm + np.array([offset, 0.0, above]))
    return rig_of([Part("whole", "body", solid)], Water(density, 9.81, 2.5e5), held=held)


def _parts(r):
    parts = []
    for kind, count in COUNTS.items():
        for number in range(count):
            mass = MASSES[kind] * r.uniform(0.8, 1.2)
            at = r.uniform([-0.7, -0.15, -0.15], [0.6, 0.15, 0.2])
            inertia = ball_inertia(mass, np.array([0.3, 0.12, 0.1]) * r.uniform(0.6, 1.2, 3))
            solid = Solid(mass, at, inertia, mass / DENSITIES[kind], at + r.normal(0.0, 0.01, 3))
            parts.append(Part(f"{kind} {number}", kind, solid))
    return parts


def _suit(r, cells, garment):
    if garment:
        loft, slack = r.uniform(0.5, 1.5, (2, cells)) * [[8e-3], [4e-3]] / cells
        law = garment_law(loft, slack, r.uniform(500.0, 3000.0))
    else:
        least = r.uniform(0.0, 1e-3, cells) / cells
        law = logistic_law(least, least + r.uniform(0.2, 1.0, cells) * 24e-3 / cells, r.uniform(300.0, 1500.0))
    at = r.uniform([-0.7, -0.2, -0.12], [0.5, 0.2, 0.12], (cells, 3))
    return SuitPocket(at, law, float(law.most.sum()) * r.uniform(0.3, 0.8), 3.0, r.uniform(0.5, 4.0))


def _wing(r, cells):
    at = r.uniform([-0.2, -0.2, 0.12], [0.5, 0.2, 0.3], (cells, 3))
    law = logistic_law(np.zeros(cells), np.full(cells, 20e-3 / cells), r.uniform(100.0, 500.0))
    return WingPocket(at, law, None, 3.0, r.uniform(0.2, 1.0))


def random_rig(seed, trimmed=False):
    """A rig of ten scattered parts with suit and wing; ``trimmed`` makes the moment when flat small.

    Even seeds have a suit by the garment law, odd ones by the logistic law.
    """
    r = np.random.default_rng(seed)
    parts, water = _parts(r), Water(1025.0, 9.81, r.uniform(1.3e5, 5e5))
    suit, wing = _suit(r, 24, seed % 2 == 0), _wing(r, 16)
    rig = rig_of(parts, water, suit=suit, wing=wing)
    if trimmed:
        d = field(soft_rig(rig), np.array([[0.0, 0.0, 1.0]])).d[0]
        away = np.array([*d[:2] * r.uniform(0.9, 1.1, 2), 0.0]) / (water.gravity * 5.0)
        at = rig.whole.cm
        # a neutral 5 kg lump whose CB is set off so that it cancels most of the moment
        parts.append(Part("trim", "other", Solid(5.0, at, ball_inertia(5.0, [0.1] * 3), 5.0 / 1025.0, at + away)))
        rig = rig_of(parts, water, suit=suit, wing=wing)
    return rig


@pytest.fixture
def make_random_rig():
    return random_rig


@pytest.fixture
def make_pendulum():
    return pendulum_rig
