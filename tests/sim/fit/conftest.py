"""Demo divers dressed once for all tests of a process."""

from functools import cache

import pytest

from scenarios.demos import demo_path
from sim.assembly.from_file import assembled_from_file


@cache
def _dressed(demo, *settings):
    return assembled_from_file(demo_path(demo), settings)


@pytest.fixture(scope="session")
def dressed():
    """The function ``dressed(demo, *settings)``: an assembled demo diver; the same one for the same words."""
    return _dressed
