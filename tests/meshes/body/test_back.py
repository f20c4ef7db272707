"""The back at given places, against the section itself cut at every angle."""

import numpy as np

from sim.person.person import person_of


def test_the_back_lies_straight_between_places_of_the_section():
    person = person_of("female", 1.66, 60.0)
    trunk, h = person.shape.trunk, person.skeleton.heights
    x, y = np.linspace(h["crotch"], h["c7"], 23), np.linspace(0.0, 0.3, 31)
    found = trunk.back(x, np.broadcast_to(y, (23, 31)))
    angles = np.linspace(0.5 * np.pi, np.pi, 65)
    for height, row in zip(x, found, strict=True):
        section = trunk.at(np.full(65, height), angles)
        np.testing.assert_allclose(row, np.interp(y, section[::-1, 1], section[::-1, 2]), rtol=0.0, atol=1e-12)
