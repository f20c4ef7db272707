"""People that several tests look at, made once."""

from __future__ import annotations

import pytest

from sim.person.person import Person, person_of


@pytest.fixture(scope="session")
def woman() -> Person:
    return person_of("female", 1.66, 58.0)


@pytest.fixture(scope="session")
def man() -> Person:
    return person_of("male", 1.90, 90.0)
