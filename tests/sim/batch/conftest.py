"""Rigs of every kind, alone and as arrays."""

from dataclasses import replace
from importlib import import_module
from pathlib import Path

import numpy as np
import pytest

from scenarios.demos import demo_names, demo_path
from sim.case import Case

SCRIPTS = Path(__file__).parents[3] / "scripts"


@pytest.fixture
def drawn(monkeypatch):
    """The module of random rigs that the benchmark and the million use: ``usual_rigs`` and ``wild_rigs``."""
    monkeypatch.syspath_prepend(SCRIPTS)
    return import_module("random_rigs")


@pytest.fixture(scope="session")
def demo_rigs():
    """The assembled demo divers: garment law, wing kept neutral, gas with weight, left-right symmetric."""
    return [Case.read(file).assembled.rig for file in map(demo_path, demo_names())]


@pytest.fixture
def every_kind(make_rig, demo_rigs):
    """Both laws; wing neutral, fixed, taut or empty; without suit, its gas, wing or both; any point held; demos."""
    volumes = (None, 9e-3, 40e-3, 0.0)
    rigs = [
        make_rig(i, law=("logistic", "garment")[i % 2], wing_gas=volumes[i // 2 % 4], gas_density=3.0 * (i % 3))
        for i in range(32)
    ]
    a, b, c, d, e, f = rigs[:6]
    odd = [
        replace(a, suit=None),
        replace(b, wing=None),
        replace(c, suit=None, wing=None),
        replace(d, suit=replace(d.suit, gas=0.0)),
        replace(e, held=np.array([0.3, 0.1, -0.2])),
        replace(f, held=np.array([-0.4, 0.0, 0.3])),
        replace(a, suit=replace(a.suit, gas=1.2 * a.suit.law.most.sum())),  # overfull
        replace(a, suit=replace(a.suit, gas=0.9 * a.suit.law.least.sum())),  # squeezed flat
        replace(a, water=replace(a.water, density=1190.0)),  # floats whatever the wing does
        replace(a, water=replace(a.water, density=900.0)),  # sinks whatever the wing does
    ]
    return [*rigs, *odd, *demo_rigs]
