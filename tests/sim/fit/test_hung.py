"""A rig hung lower by moving it is the rig built lower."""

from __future__ import annotations

from dataclasses import fields

import numpy as np

from scenarios.demos import demo_path
from sim.assembly.assembled import Worn
from sim.assembly.from_file import assembled_from_file
from sim.assembly.placement import Placement
from sim.fit.hung import hung


def worn(demo: str, *settings: str) -> Worn:
    found = assembled_from_file(demo_path(demo), settings).worn
    assert found is not None
    return found


def same(a: Placement, b: Placement) -> None:
    np.testing.assert_allclose(a.rotation, b.rotation, atol=1e-12)
    np.testing.assert_allclose(a.origin, b.origin, atol=1e-12)


def alike(moved: Worn, built: Worn) -> None:
    same(moved.seat, built.seat)
    assert moved.drop == built.drop
    assert moved.cylinders is not None
    assert built.cylinders is not None
    for field in fields(built.cylinders):
        a, b = getattr(moved.cylinders, field.name), getattr(built.cylinders, field.name)
        if isinstance(b, np.ndarray):
            np.testing.assert_allclose(a, b, atol=1e-12)
    for a, b in zip(moved.cylinders.each, built.cylinders.each, strict=True):
        same(a, b)
    for a, b in zip(moved.cylinders.outlets, built.cylinders.outlets, strict=True):
        same(a, b)
    parts = (*moved.cylinders.parts, *moved.first_stages)
    for part, other in zip(parts, (*built.cylinders.parts, *built.first_stages), strict=True):
        assert part.name == other.name
        np.testing.assert_allclose(part.solid.cm, other.solid.cm, atol=1e-12)
        if other.solid.mesh is not None:
            assert part.solid.mesh is not None
            np.testing.assert_allclose(part.solid.mesh.vertices, other.solid.mesh.vertices, atol=1e-12)


def test_lower_on_the_same_diver() -> None:
    alike(hung(worn("small-woman-steel"), 0.05), worn("small-woman-steel", 'harness.drop="5 cm"'))


def test_the_same_rig_on_another_diver() -> None:
    """Only the person differs between the two."""
    tall = ['diver.sex="male"', 'diver.height="185 cm"', 'diver.mass="85 kg"']
    other = worn("small-woman-steel", *tall)
    alike(hung(worn("small-woman-steel"), other.drop, other.body), other)
