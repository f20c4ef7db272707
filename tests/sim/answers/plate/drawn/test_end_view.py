"""The bent plate from below: the profile of its sheet."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from meshes.mesh import Mesh
from meshes.plate.back_plate import Plate, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from sim.answers.plate.drawn.end_view import end_view, heights
from sim.answers.plate.drawn.marks import Area


def profile(plate: Plate) -> shapely.Polygon:
    (area,) = [m for m in end_view(plate) if isinstance(m, Area) and m.tone == "sheet"]
    return shapely.Polygon(area.rings[0], area.rings[1:])


@pytest.mark.parametrize("shape", [standard_plate_shape(), small_plate_shape()], ids=["standard", "small"])
def test_the_profile_has_the_area_of_the_flat_one(shape) -> None:  # type: ignore[no-untyped-def]
    """Some row of both is whole from side to side; the bends' chords lose less than a thousandth."""
    plate = plate_of(shape, 8000.0)
    flat = 1e6 * np.ptp(plate.pattern.outline.outer[:, 1]) * plate.thickness
    assert profile(plate).area == pytest.approx(flat, rel=1e-3)
    left, low, right, high = profile(plate).bounds
    assert (right - left, high - low) == pytest.approx((1e3 * plate.width, 1e3 * (plate.channel_depth + 0.003)))
    assert heights(plate) == pytest.approx((low, high), abs=1e-9)


def test_an_unsound_mesh_is_drawn_as_its_hull() -> None:
    plate = plate_of(standard_plate_shape(), 8000.0)
    assert plate.solid.mesh is not None
    torn = Mesh(plate.solid.mesh.vertices, plate.solid.mesh.faces[1:])
    hull = shapely.MultiPoint(1e3 * torn.vertices[:, [1, 2]] * [-1.0, 1.0]).convex_hull
    found = profile(replace(plate, solid=replace(plate.solid, mesh=torn)))
    assert found.symmetric_difference(hull).area < 1e-6 * hull.area
