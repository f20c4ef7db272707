"""Weighed things, ribbons and rings against closed forms."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from meshes.gear.regulator import second_stage
from meshes.gear.webbing import d_ring, stage_rigging, webbing, webbing_lying
from meshes.gear.weighed import evened, weighed
from meshes.mesh import mesh_of, moved
from meshes.primitives import box
from meshes.solid import solid_of


def test_weighed_box_keeps_its_shape_and_displaces_by_its_material() -> None:
    got = weighed(box([0.3, 0.2, 0.1], [1.0, 0.0, 0.0]), 2.0, 1250.0, held_gas=0.5e-3)
    assert got.volume == pytest.approx(2.0 / 1250.0 + 0.5e-3, rel=1e-14)
    assert got.cm == pytest.approx([1.0, 0.0, 0.0])
    assert np.diag(got.inertia) == pytest.approx(2.0 / 12.0 * np.array([0.05, 0.10, 0.13]), rel=1e-12)


def test_evened_removes_skew_and_nothing_else() -> None:
    skew = solid_of(moved(box([0.3, 0.2, 0.1]), None, [0.1, 0.02, 0.3]), 1000.0)
    got = evened(skew)
    assert got.cm == pytest.approx([0.1, 0.0, 0.3])
    assert got.cb == pytest.approx([0.1, 0.0, 0.3])
    assert (got.mass, got.volume) == (skew.mass, skew.volume)
    assert got.inertia[0, 1] == got.inertia[1, 2] == 0.0
    assert np.diag(got.inertia) == pytest.approx(np.diag(skew.inertia))


def test_straight_webbing_is_a_thin_plank() -> None:
    got = webbing([[0.0, 0.0, 0.0], [0.6, 0.0, 0.0]], side=[0.0, 1.0, 0.0])
    assert got.mass == pytest.approx(0.6 * 0.0675, rel=1e-12)
    # nearly neutral once wet: sinks with a tenth of its mass
    assert got.mass - 1025.0 * got.volume == pytest.approx(0.1 * got.mass, rel=0.02)
    assert got.inertia[2, 2] == pytest.approx(got.mass / 12.0 * (0.6**2 + 0.05**2), rel=0.01)
    assert got.mesh is not None
    assert np.ptp(got.mesh.vertices, axis=0) == pytest.approx([0.6, 0.05, 0.0025], rel=1e-9)


def test_webbing_lies_flat_on_what_it_goes_round() -> None:
    """Half round a drum of 0.3 m: mass by its length, the width along the drum, the thickness radial."""
    angle = np.linspace(0.0, np.pi, 721)
    outward = np.column_stack([np.cos(angle), np.sin(angle), np.zeros(721)])
    got = webbing_lying(0.3 * outward, outward)
    assert got.mass == pytest.approx(0.0675 * np.pi * 0.3, rel=1e-6)  # 720 chords
    assert got.mesh is not None
    radii = np.hypot(got.mesh.vertices[:, 0], got.mesh.vertices[:, 1])
    # chords of 12 mm between sections leave 12^2/(8 * 300) = 0.06 mm; at the ends the normals are one-sided, 1 mm
    assert radii.min() == pytest.approx(0.3 - 0.00125, abs=1.5e-3)
    assert radii.max() == pytest.approx(0.3 + 0.00125, abs=1.5e-3)
    assert np.ptp(got.mesh.vertices[:, 2]) == pytest.approx(0.05, rel=1e-9)
    with pytest.raises(ValueError, match="two ends"):
        webbing_lying([[0.0, 0.0, 0.0]] * 2, [[0.0, 0.0, 1.0]] * 2)


def test_d_ring_against_wire_length() -> None:
    got = d_ring(width=0.055, wire=0.006)
    half = 0.0305
    wire = np.pi * half + 2.0 * np.hypot(0.010, 0.004) + 2.0 * (half - 0.004)
    # 12-sided wire lacks 4.5 %, its two sharp corners and the chords a little more
    assert got.mass == pytest.approx(8000.0 * np.pi * 0.003**2 * wire, rel=0.07)
    assert got.cm[0] > 0.01


def test_second_stage_holds_gas_only_when_asked() -> None:
    assert second_stage(held_gas=50e-6).solid.volume - second_stage().solid.volume == pytest.approx(50e-6, rel=1e-12)
    left = second_stage(mirror=True)
    assert left.hose_inlet[1] > 0.0
    assert left.inlet_direction == pytest.approx([0.0, 1.0, 0.0])


def test_rigging_lies_along_the_leash() -> None:
    got = stage_rigging(0.184, neck_x=0.66, band_x=0.2)
    assert 0.2 < got.cm[0] < 0.66
    assert got.cm[1] > 0.05


@pytest.mark.parametrize(
    "call",
    [
        lambda: weighed(box([1.0, 1.0, 1.0]), float("nan"), 1000.0),
        lambda: weighed(box([1.0, 1.0, 1.0]), 1.0, 0.0),
        lambda: weighed(box([1.0, 1.0, 1.0]), 1.0, 1.0, held_gas=-1.0),
        lambda: weighed(mesh_of(box([1, 1, 1]).vertices, box([1, 1, 1]).faces[:, ::-1]), 1.0, 1.0),
        lambda: webbing([[0.0, 0, 0], [1.0, 0, 0]], side=[0.0, 1.0, 0.0], width=0.001),
        lambda: webbing([[0.0, 0, 0], [1.0, 0, 0]], side=[1.0, 0.0, 0.0]),
        lambda: d_ring(wire=float("nan")),
        lambda: stage_rigging(0.184, neck_x=0.1, band_x=0.2),
    ],
)
def test_refuses(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"needs|inside out|side|above"):
        call()
