"""Mosteller 1987, N Engl J Med 317:1098: skin area sqrt(H m / 3600) [m^2, cm, kg]."""


def test_skin_area(skin):
    """0.93 to 1.03 of it: no folds, fingers as a mitt; four formulas agree among themselves within 1 %."""
    stature, mass, area = skin
    assert 0.93 < area / ((100.0 * stature * mass / 3600.0) ** 0.5) < 1.03
