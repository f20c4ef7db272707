"""Divers at the surface, put together once for all tests of a run."""

from math import radians
from types import SimpleNamespace

import pytest

from scenarios.demos import demo_path
from sim.answers.settle.afloat.surface import dresser
from sim.assembly.afloat import HANGING, SWUNG, diver_afloat
from sim.case import Case

WOMAN, SINGLE = "small-woman-steel", "single-wetsuit"
NEAR = 0.5  # m of water over the diver
NECK = (radians(-35.0), radians(50.0))


def diver_of(path, settings=()):
    """A file's rig as told, the same in any pose, hanging and swung, and the diver afloat."""
    near = Case.read(path, [*settings, f"water.depth={NEAR} m"])
    told, dressed = near.assembled, dresser(near)
    hanging, swung = dressed(HANGING), dressed(SWUNG)
    diver = diver_afloat(told, hanging, swung, NEAR, NECK)
    return SimpleNamespace(told=told, dressed=dressed, hanging=hanging, swung=swung, diver=diver)


@pytest.fixture(scope="session")
def dressed():
    """A demo diver assembled with settings; each person is built once."""
    cases = {}

    def assembled(demo, *settings):
        case = cases.setdefault(demo, Case.read(demo_path(demo)))
        return case.vary(settings).assembled

    return assembled


@pytest.fixture(scope="session")
def woman(dressed):
    """The small woman in a drysuit with a twin set."""
    return lambda *settings: dressed(WOMAN, *settings)


@pytest.fixture(scope="session")
def single(dressed):
    """The man in a wetsuit with one cylinder."""
    return lambda *settings: dressed(SINGLE, *settings)


@pytest.fixture(scope="session", params=["small-woman-steel", "single-wetsuit"])
def afloat_case(request):
    return diver_of(demo_path(request.param))


@pytest.fixture(scope="session")
def dry_case():
    return diver_of(demo_path("small-woman-steel"))
