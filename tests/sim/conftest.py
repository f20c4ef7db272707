"""Rigs drawn at random, wider than life, for tests of the mechanics; a demo diver at the surface."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from meshes.solid import mirrored, point_mass
from sim.fill_laws import garment_law, logistic_law
from sim.rig import Part, Rig, SuitPocket, Water, WingPocket, rig_of

WATER = Water(density=1025.0, gravity=9.81, pressure=252153.75)


def random_rig(seed: int, *, law: str = "logistic", wing_gas: float | None = None, gas_density: float = 0.0) -> Rig:
    """A lumpy body with lead, a suit of 30 cells and a wing of 16, not symmetric. ``wing_gas`` [m^3] or None."""
    rng = np.random.default_rng(seed)
    parts = [
        Part("trunk", "body", point_mass(52.0, [0.1, 0.0, 0.0], 0.050)),
        Part("twins", "cylinder", point_mass(30.0, rng.normal([0.1, 0.0, 0.17], 0.02), 0.018)),
        Part("fins", "fins", point_mass(3.0, rng.normal([-0.9, 0.0, -0.05], 0.03), 0.0022)),
        Part("belt", "lead", point_mass(rng.uniform(2.0, 9.0), rng.normal([0.0, 0.0, -0.06], 0.05), 0.0004)),
    ]
    n, m = 30, 16
    at = np.stack([rng.uniform(-0.9, 0.5, n), rng.uniform(-0.2, 0.2, n), rng.uniform(-0.12, 0.12, n)], axis=1)
    if law == "garment":
        loft = rng.uniform(0.2e-3, 0.5e-3, n)
        fill = garment_law(loft, rng.uniform(0.05, 0.4) * loft, rng.uniform(300.0, 900.0))
        gas = 0.6 * loft.sum()
    else:
        least = rng.uniform(0.0, 0.1e-3, n)
        fill = logistic_law(least, least + rng.uniform(0.1e-3, 0.5e-3, n), rng.uniform(150.0, 1200.0))
        gas = 0.5 * (least + fill.most).sum()
    suit = SuitPocket(at, fill, float(gas), gas_density)
    back = np.stack([rng.uniform(-0.2, 0.4, m), rng.uniform(-0.2, 0.2, m), rng.uniform(0.1, 0.2, m)], axis=1)
    room = np.full(m, 22e-3 / m)
    wing = WingPocket(back, logistic_law(0.0 * room, room, rng.uniform(100.0, 600.0)), wing_gas, gas_density)
    return rig_of(parts, WATER, suit=suit, wing=wing)


def mirrored_rig(rig: Rig) -> Rig:
    """The same rig with left and right changed over."""
    flip = np.array([1.0, -1.0, 1.0])
    parts = [replace(p, solid=mirrored(p.solid)) for p in rig.parts]
    pockets = [None if p is None else replace(p, cells=p.cells * flip) for p in (rig.suit, rig.wing)]
    return rig_of(parts, rig.water, suit=pockets[0], wing=pockets[1], held=rig.held * flip)


@pytest.fixture
def directions() -> np.ndarray:
    """Forty unit vectors at random, flat among them."""
    v = np.random.default_rng(7).normal(size=(40, 3))
    v[0] = [0.0, 0.0, 1.0]
    return v / np.linalg.norm(v, axis=1)[:, None]


@pytest.fixture
def make_rig():
    """The function ``random_rig(seed, law=, wing_gas=, gas_density=)``."""
    return random_rig


@pytest.fixture
def mirror_rig():
    """The function ``mirrored_rig(rig)``."""
    return mirrored_rig


@cache
def _surface(*settings):
    from scenarios.demos import demo_path
    from sim.answers.settle.afloat.surface import surface_report
    from sim.case import Case

    return surface_report(Case.read(demo_path("single-wetsuit"), settings))


@pytest.fixture(scope="session")
def single_afloat():
    """The function ``single_afloat(*settings)``: the answer of the demo's single-cylinder diver at the surface."""
    return _surface
