"""Clauser, McConville & Young 1969, AMRL-TR-69-70: densities of body segments, as listed by Yeadon 1990.

Only their ratios are used; the whole has the density that a living person has.
"""

from sim.person.person import person_of

SEA = 1025.0  # kg/m^3


def test_head_in_sea_water():
    """Head and neck of a 75 kg man weigh 0.2 to 0.4 kg in the sea: fraction 0.0694, density 1070 to 1110."""
    head = person_of("male", 1.78, 75.0).segments["head"]
    assert 0.2 < head.mass - SEA * head.volume < 0.4
    assert 1065.0 < head.mass / head.volume < 1110.0


def test_limbs_in_the_published_order():
    """Hand > forearm ~ foot > shank > upper arm > thigh."""
    for sex in ("male", "female"):
        person = person_of(sex, 1.70, 68.0)
        density = {n: t.mass / t.volume for n, t in person.segments.items()}
        ranked = [density[f"left {n}"] for n in ("hand", "shank", "upper arm", "thigh")]
        assert ranked == sorted(ranked, reverse=True)


def test_thighs_of_women_are_lighter():
    woman = person_of("female", 1.70, 68.0).segments
    assert woman["left thigh"].mass / woman["left thigh"].volume < 1030.0
