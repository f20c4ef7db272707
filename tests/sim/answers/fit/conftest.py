"""Demo divers dressed once for all tests of a process."""

from functools import cache

import pytest

from scenarios.demos import demo_path
from sim.case import Case


@cache
def _dressed(demo, *settings):
    return Case.read(demo_path(demo), settings).assembled


@pytest.fixture(scope="session")
def dressed():
    """The function ``dressed(demo, *settings)``: an assembled demo diver; the same one for the same words."""
    return _dressed
