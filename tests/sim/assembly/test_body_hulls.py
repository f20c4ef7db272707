"""Shapes made to displace a stated volume about a stated CB."""

import numpy as np
import pytest

from meshes.mesh import moved
from meshes.primitives import box
from meshes.solid import volume_integrals
from sim.assembly.body_hulls import body_hulls
from sim.floating.clip import immersion

LENGTH = 0.15  # m: a shift of 1 cm counts as much as 7 % of volume (assumed)


def row_of_boxes(number=5):
    return [moved(box([0.3, 0.2, 0.1 + 0.02 * i]), shift=np.array([0.3 * i, 0.05 * i, 0.0])) for i in range(number)]


def totals(hulls):
    volume = sum(h.volume for h in hulls)
    return volume, sum((h.first for h in hulls), np.zeros(3)) / volume


def own_totals(meshes):
    own = [volume_integrals(m) for m in meshes]
    volume = sum(o.volume for o in own)
    return volume, sum((o.volume * o.centroid for o in own), np.zeros(3)) / volume


@pytest.mark.parametrize("off", [[0.0, 0.0, 0.0], [0.02, 0.0, 0.0], [-0.03, 0.004, 0.01]])
def test_volume_and_cb_are_met_exactly(off):
    meshes = row_of_boxes()
    volume, middle = own_totals(meshes)
    found, cb = totals(body_hulls(meshes, 1.03 * volume, middle + off))
    assert found == pytest.approx(1.03 * volume, rel=1e-14)
    assert cb == pytest.approx(middle + off, abs=1e-14)


def test_what_the_hulls_cut_is_what_they_say():
    """The share and the moved mesh are one: clipped far under water they give the stated totals."""
    meshes = row_of_boxes()
    volume, middle = own_totals(meshes)
    cuts = [(h.share, immersion(h.mesh, np.array([0.0, 0.0, 1.0]), 9.0)) for h in body_hulls(meshes, volume, middle)]
    assert sum(s * c.volume for s, c in cuts) == pytest.approx(volume, rel=1e-12)
    assert sum(s * c.first for s, c in cuts) / volume == pytest.approx(middle, abs=1e-12)


def test_a_shape_that_agrees_is_left_alone():
    meshes = row_of_boxes()
    for hull, mesh in zip(body_hulls(meshes, *own_totals(meshes)), meshes, strict=True):
        assert hull.share == pytest.approx(1.0, abs=1e-12)
        assert hull.mesh.vertices == pytest.approx(mesh.vertices, abs=1e-12)


def test_no_other_way_changes_less():
    """Any other shares and shift with the same totals cost more: the cost's slope along such ways is nil."""
    meshes = row_of_boxes()
    volume, middle = own_totals(meshes)
    cb = middle + [0.02, 0.001, 0.005]
    hulls = body_hulls(meshes, volume, cb)
    own = np.array([volume_integrals(m).volume for m in meshes])
    at = np.array([volume_integrals(m).centroid for m in meshes])
    more, shift = np.array([h.share for h in hulls]) - 1.0, hulls[0].first / hulls[0].volume - at[0]
    slope = np.concatenate([own * more, volume * shift / LENGTH**2])
    # rows: what the volume and the first moment change by
    bound = np.concatenate([np.r_[own, 0.0, 0.0, 0.0][None], np.c_[(at * own[:, None]).T, volume * np.eye(3)]])
    free = np.linalg.svd(bound)[2][4:]
    assert free @ slope == pytest.approx(np.zeros(len(free)), abs=1e-12 * volume / LENGTH)


def test_a_cb_that_no_share_reaches_is_refused():
    meshes = row_of_boxes()
    volume, middle = own_totals(meshes)
    with pytest.raises(ValueError, match="no hulls"):
        body_hulls(meshes, volume, middle + [0.7, 0.0, 0.0])
