"""Plain shapes against their closed forms; curved ones must converge at second order."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
import trimesh

from meshes.mesh import Mesh
from meshes.primitives import box, capsule, closed_loft, ellipsoid, rounded_box, rounded_rectangle, superellipse
from meshes.solid import volume_integrals

# halving the step of a second-order rule divides the error by 4; the next term moves that by a few per cent
SECOND_ORDER = (3.6, 4.4)


def is_sound(mesh: Mesh) -> bool:
    body = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    return bool(body.is_volume) and bool((body.area_faces > 0.0).all())


def torus(n: int) -> Mesh:
    turn = 2.0 * np.pi * np.arange(2 * n) / (2 * n)
    spoke = 2.0 * np.pi * np.arange(n) / n
    reach = 0.5 + 0.1 * np.cos(spoke)
    out = np.stack([np.cos(turn), np.zeros(2 * n), -np.sin(turn)], axis=1)
    rings = out[:, None, :] * reach[None, :, None] + (0.1 * np.sin(spoke))[None, :, None] * [0.0, 1.0, 0.0]
    return closed_loft(rings[::-1])


def test_box_is_exact() -> None:
    mesh = box([2.0, 0.5, 0.3], [1.0, 2.0, 3.0])
    got = volume_integrals(mesh)
    assert is_sound(mesh)
    assert got.volume == pytest.approx(0.3, rel=1e-14)
    assert got.centroid == pytest.approx([1.0, 2.0, 3.0], rel=1e-14)
    assert np.diag(got.second) == pytest.approx(0.3 / 12.0 * np.array([0.34, 4.09, 4.25]), rel=1e-12)


@pytest.mark.parametrize(
    ("make", "volume"),
    [
        (lambda n: ellipsoid([0.3, 0.2, 0.1], rings=n, points=2 * n), 4.0 / 3.0 * np.pi * 0.006),
        (lambda n: capsule(0.5, 0.1, rings=n, points=4 * n), np.pi * 0.01 * (0.3 + 4.0 / 3.0 * 0.1)),
        (torus, 2.0 * np.pi**2 * 0.5 * 0.01),
    ],
    ids=["ellipsoid", "capsule", "torus"],
)
def test_round_shapes_converge_at_second_order(make: Callable[[int], Mesh], volume: float) -> None:
    meshes = [make(n) for n in (12, 24, 48)]
    errors = [volume - volume_integrals(m).volume for m in meshes]
    assert all(is_sound(m) for m in meshes)
    # a 48-sided section lacks 0.29 % of its circle, the way round a little more
    assert 0.0 < errors[-1] < 4e-3 * volume
    for coarse, fine in pairwise(errors):
        assert SECOND_ORDER[0] < coarse / fine < SECOND_ORDER[1]


def test_rounded_box_against_steiner() -> None:
    """Volume of a core brick grown by r: V + S r + pi (sum of edges) r^2 + 4/3 pi r^3."""
    size, r = np.array([0.3, 0.2, 0.1]), 0.02
    core = size - 2.0 * r
    faces = 2.0 * (core[0] * core[1] + core[1] * core[2] + core[2] * core[0])
    want = core.prod() + faces * r + np.pi * core.sum() * r**2 + 4.0 / 3.0 * np.pi * r**3
    mesh = rounded_box(size, r, corner_points=24)
    assert is_sound(mesh)
    # 24 points a quarter leave 0.05 % of the rounding's share, itself a tenth of the whole
    assert volume_integrals(mesh).volume == pytest.approx(want, rel=2e-4)
    assert np.ptp(mesh.vertices, axis=0) == pytest.approx(size, rel=1e-12)


def test_outlines() -> None:
    def area(p: np.ndarray) -> float:
        return 0.5 * float(np.sum(p[:, 0] * np.roll(p[:, 1], -1) - p[:, 1] * np.roll(p[:, 0], -1)))

    # anticlockwise means a positive area
    assert area(superellipse(400, 2.0, 1.0)) == pytest.approx(0.5 * np.pi, rel=1e-4)
    assert area(rounded_rectangle(2.0, 1.0, 0.25, 100)) == pytest.approx(2.0 - 0.0625 * (4.0 - np.pi), rel=1e-5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: box([1.0, float("nan"), 1.0]),
        lambda: box([1.0, 1.0]),
        lambda: rounded_box([1.0, 1.0, 1.0], 0.5),
        lambda: rounded_rectangle(1.0, 1.0, float("nan")),
        lambda: ellipsoid([1.0, 0.0, 1.0]),
        lambda: capsule(0.1, 0.1),
        lambda: superellipse(8, -1.0, 1.0),
        lambda: closed_loft(np.zeros((2, 3, 3))),
    ],
)
def test_refuses_what_encloses_nothing(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"> 0|must be|needs|three|shape"):
        call()
