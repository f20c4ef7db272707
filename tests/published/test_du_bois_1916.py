"""Du Bois & Du Bois 1916, Arch Intern Med 17:863: skin area 0.007184 H^0.725 m^0.425 [m^2, cm, kg]."""


def test_skin_area(skin):
    """0.93 to 1.03 of it: no folds, fingers as a mitt; four formulas agree among themselves within 1 %."""
    stature, mass, area = skin
    assert 0.93 < area / (0.007184 * (100.0 * stature) ** 0.725 * mass**0.425) < 1.03
