"""Mass spread over patches, against a thin spherical shell in closed form; patches by their segment."""

import numpy as np
import pytest
import trimesh

from sim.assembly.shell import chosen, on_segments, spread_solid
from sim.person.skin import SkinPatches

RADIUS, MIDDLE = 0.4, np.array([0.3, -0.1, 0.2])


@pytest.fixture(scope="module")
def ball() -> SkinPatches:
    """Its patches by another library; every other one is a left foot's, the rest are a right hand's."""
    mesh = trimesh.creation.icosphere(subdivisions=4)
    normal = mesh.triangles_center / np.linalg.norm(mesh.triangles_center, axis=1, keepdims=True)
    area = mesh.area_faces * (4.0 * np.pi * RADIUS**2 / mesh.area)
    names = tuple(("left foot", "right hand")[i % 2] for i in range(len(area)))
    return SkinPatches(MIDDLE + RADIUS * normal, normal, area, names, np.zeros(len(area)))


@pytest.mark.parametrize("outward", [0.0, 0.05, -0.1])
def test_a_ball_is_a_thin_shell_of_the_radius_at_which_it_is_spread(ball, outward):
    """2/3 m r^2 about each axis through its middle, where mass and water displaced have their centre."""
    made = spread_solid(ball, 3.0, 2e-3, outward)
    assert (made.mass, made.volume) == (3.0, 2e-3)
    assert made.cm == pytest.approx(MIDDLE, abs=1e-9)
    assert made.cb == pytest.approx(made.cm, abs=1e-15)
    # triangles of the grid are all but alike
    assert made.inertia == pytest.approx(2.0 / 3.0 * 3.0 * (RADIUS + outward) ** 2 * np.eye(3), abs=1e-6)


def test_patches_are_known_by_segment_or_by_its_kind(ball):
    foot = on_segments(ball, "left foot")
    assert foot.tolist() == [name == "left foot" for name in ball.segment]
    assert on_segments(ball, "foot").tolist() == foot.tolist()
    assert not on_segments(ball, "right foot").any()
    assert chosen(ball, foot).area.sum() == pytest.approx(ball.area[::2].sum(), rel=1e-12)
    with pytest.raises(ValueError, match="no segment tail"):
        on_segments(ball, "foot", "tail")
