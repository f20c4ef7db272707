"""What several sources are held against."""

from __future__ import annotations

from itertools import product

import pytest

from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import posed_body


@pytest.fixture(scope="session", params=list(product(("male", "female"), (1.55, 1.70, 1.85), (19.0, 24.0, 30.0))))
def skin(request):
    """Stature [m], mass [kg] and area of skin [m^2] of a person."""
    sex, stature, bmi = request.param
    mass = bmi * stature**2
    return stature, mass, posed_body(person_of(sex, stature, mass), POSES["upright"]).skin.area.sum()
