"""A demo rig on its diver, hung in ways of one's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.answer import found_on
from sim.answers.fit.dressed_person import dress_of, dressed_person
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.hung_rig import hung_rig
from sim.assembly.placement import Placement
from sim.case import Case

LOW = 0.02  # m, by which the second way hangs lower than the first on the same slope


@cache
def _found(demo: str, *settings: str) -> Found:
    return found_on(Case.read(demo_path(demo), settings).assembled)


@cache
def _hung(demo: str, *settings: str) -> Hung:
    worn = _found(demo, *settings).worn
    who = dressed_person(worn.body.person, dress_of(worn))
    lower = Placement(worn.seat.rotation, worn.seat.origin - [LOW, 0.0, 0.0])
    rig = hung_rig("plate", worn, 0.1)
    return Hung(rig, who, (worn.seat, lower), np.array([0, 1, 0]), np.array([0.0, 0.0, LOW]))


@pytest.fixture(scope="session")
def found() -> Callable[..., Found]:
    """The function ``found(demo, *settings)``: what is found on a demo diver."""
    return _found


@pytest.fixture(scope="session")
def hung() -> Callable[..., Hung]:
    """The function ``hung(demo, *settings)``: the rig as worn, 2 cm lower, and with the cylinders 2 cm up on it."""
    return _hung


@pytest.fixture(scope="session")
def told() -> Callable[..., Found]:
    """The function ``told(found, **numbers)``: the same with other numbers of where the rig sits."""

    def changed(found: Found, **numbers: float | None) -> Found:
        other = replace(found)
        other.__dict__["on_back"] = other.__dict__["sits"] = replace(found.on_back, **numbers)
        return other

    return changed
