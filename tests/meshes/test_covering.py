"""Layers over a shape and hoods: Steiner's formula, and mass that stays when foam is squeezed."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from meshes.covering import covering, grown, surface_area, vertex_normals
from meshes.headgear import hood, mask
from meshes.mesh import mesh_of
from meshes.primitives import ellipsoid

BALL = ellipsoid([0.1, 0.1, 0.1], rings=64, points=96)


def test_layer_over_a_ball() -> None:
    """Between two balls: 4/3 pi (R^3 - r^3); thin shell inertia 2/5 m (R^5 - r^5)/(R^3 - r^3)."""
    got = covering(BALL, 0.005, 200.0)
    r, big = 0.1, 0.105
    # 64 x 96 facets: 0.15 %
    assert got.volume == pytest.approx(4.0 / 3.0 * np.pi * (big**3 - r**3), rel=3e-3)
    assert got.mass == pytest.approx(200.0 * got.volume, rel=1e-12)
    want = 0.4 * got.mass * (big**5 - r**5) / (big**3 - r**3)
    assert np.diag(got.inertia) == pytest.approx([want] * 3, rel=3e-3)
    assert got.cm == pytest.approx(np.zeros(3), abs=1e-9)


def test_squeezed_foam_keeps_its_mass_and_loses_its_lift() -> None:
    full = covering(BALL, 0.006, 200.0)
    deep = covering(BALL, 0.006, 200.0, compressed=0.5)
    # half the thickness displaces half, but for the curvature: mid-surfaces 103 and 101.5 mm
    assert deep.volume / full.volume == pytest.approx(0.5 * (101.5 / 103.0) ** 2, rel=2e-3)
    assert deep.mass == pytest.approx(full.mass * (101.5 / 103.0) ** 2, rel=2e-3)
    assert covering(BALL, 0.006, 200.0, share=0.8).mass == pytest.approx(0.8 * full.mass, rel=1e-12)


def test_normals_and_area_of_a_ball() -> None:
    normals = vertex_normals(BALL)
    assert normals == pytest.approx(BALL.vertices / 0.1, abs=0.03)
    assert surface_area(BALL) == pytest.approx(4.0 * np.pi * 0.01, rel=2e-3)
    assert np.linalg.norm(grown(BALL, 0.02).vertices, axis=1) == pytest.approx(0.12, rel=1e-3)


def test_hood_keeps_its_mass_under_pressure() -> None:
    full, deep = hood(thickness=0.007), hood(thickness=0.007, compressed=0.5)
    assert deep.mass == full.mass
    # shell halves, its mean surface shrinks a little
    assert 0.46 < deep.volume / full.volume < 0.5
    # area over thickness: between a bathing cap and a full balaclava
    assert 0.10 < full.volume / 0.007 < 0.20
    # open toward the face, so the foam lies to the back
    assert full.cm[2] > 0.005
    assert full.cm[1] == 0.0


def test_mask_is_buoyed_by_its_gas() -> None:
    dry, flooded = mask(0.28), mask(0.28, held_gas=0.0)
    assert dry.volume - flooded.volume == pytest.approx(120e-6, rel=1e-12)
    assert flooded.mass > 1025.0 * flooded.volume
    # a mask full of air is close to neutral (common practice: some float, some sink)
    assert abs(dry.mass - 1025.0 * dry.volume) < 0.1
    assert dry.mesh is not None
    frame = dry.mesh.vertices[dry.mesh.vertices[:, 2] < -0.03]
    assert np.ptp(frame[:, 1]) == pytest.approx(0.166, abs=0.01)


@pytest.mark.parametrize(
    "call",
    [
        lambda: covering(BALL, float("nan"), 200.0),
        lambda: covering(BALL, 0.005, 200.0, compressed=0.0),
        lambda: covering(BALL, 0.005, 200.0, share=1.5),
        lambda: covering(mesh_of(BALL.vertices, BALL.faces[:, ::-1]), 0.005, 200.0),
        lambda: hood(thickness=float("nan")),
        lambda: mask(held_gas=float("nan")),
    ],
)
def test_refuses(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"needs|must be closed"):
        call()
