"""Skin area against Du Bois & Du Bois 1916 (0.007184 H^0.725 m^0.425, cm and kg) and Mosteller 1987."""

import pytest

from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import posed_body


@pytest.mark.parametrize("sex", ["male", "female"])
@pytest.mark.parametrize("stature", [1.55, 1.70, 1.85])
@pytest.mark.parametrize("bmi", [19.0, 24.0, 30.0])
def test_skin_area(sex, stature, bmi):
    """0.93 to 1.03 of it: no folds, fingers as a mitt; the formulas agree among themselves within 1 %."""
    mass = bmi * stature**2
    area = posed_body(person_of(sex, stature, mass), POSES["upright"]).skin.area.sum()
    du_bois = 0.007184 * (100.0 * stature) ** 0.725 * mass**0.425
    mosteller = (100.0 * stature * mass / 3600.0) ** 0.5
    assert 0.93 < area / du_bois < 1.03
    assert 0.92 < area / mosteller < 1.04
