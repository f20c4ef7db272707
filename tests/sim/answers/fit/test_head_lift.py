"""Where the lifted head meets things: closed forms, another library's collision check, and what must be monotone."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial import cKDTree

from meshes.mesh import mesh_of
from meshes.primitives import ellipsoid
from sim.answers.fit.head_lift import HeadBack, first_met, head_back, lifts, points_near
from sim.person.person import person_of

PIVOT = np.array([0.5, 0.0, 0.02])


def cylinder_head(radius, above):
    """A head that is a cylinder across, its middle ``above`` the pivot, in closed form."""
    distance = np.arange(above - radius, above + radius, 1e-3)
    angle = np.arccos((distance**2 + above**2 - radius**2) / (2.0 * np.maximum(distance, 1e-9) * above))
    return HeadBack(PIVOT, np.linspace(0.0, 0.08, 9), distance, np.tile(angle, (9, 1)))


def behind(angle, distance, aside=0.0):
    """A point seen from the pivot at ``angle`` from straight up toward the back."""
    return PIVOT + np.array([distance * np.cos(angle), aside, distance * np.sin(angle)])


def test_a_round_head_meets_a_point_where_the_circle_does():
    radius, above = 0.09, 0.09  # distances then begin at the pivot itself, as the table's do
    head = cylinder_head(radius, above)
    for distance in (0.06, 0.1, 0.15):
        for angle in (0.8, 1.5, 2.2):
            expected = angle - np.arccos(distance / (2.0 * above))
            # straight lines between points 1 mm apart
            assert lifts(head, behind(angle, distance, 0.03)[None])[0] == pytest.approx(expected, abs=2e-4)


def test_what_lies_beside_beyond_or_before_the_head_is_never_met():
    head = cylinder_head(0.09, 0.09)
    points = np.stack([behind(1.5, 0.1, 0.09), behind(1.5, 0.19), behind(-0.5, 0.1)])
    assert np.isinf(lifts(head, points)).all()


def test_turning_the_obstacle_round_the_pivot_turns_the_lift_by_as_much():
    head = head_back(person_of("female", 1.66, 58.0, age=34.0), 0.005)
    points = np.stack([head.pivot + [np.cos(a) * 0.12, 0.02, np.sin(a) * 0.12] for a in (1.2, 1.4, 1.9)])
    assert np.diff(lifts(head, points)) == pytest.approx([0.2, 0.5], abs=1e-9)


def test_left_and_right_are_alike():
    head = head_back(person_of("male", 1.8, 80.0), 0.0)
    points = head.pivot + np.random.default_rng(3).normal(size=(200, 3)) * [0.06, 0.05, 0.06] + [0.0, 0.0, 0.1]
    assert np.array_equal(lifts(head, points), lifts(head, points * [1.0, -1.0, 1.0]))


def test_a_thicker_hood_meets_things_sooner():
    person = person_of("female", 1.66, 58.0, age=34.0)
    point = head_back(person, 0.0).pivot + np.array([[0.03, 0.02, 0.12]])
    told = [float(lifts(head_back(person, hood), point)[0]) for hood in (0.0, 0.005, 0.01)]
    assert told[0] > told[1] > told[2]
    assert told[0] - told[2] == pytest.approx(0.010 / 0.12, rel=0.3)  # thickness over distance


@pytest.mark.parametrize(
    ("sex", "height", "mass"), [("male", 2.0, 150.0), ("female", 1.45, 36.0), ("male", 1.75, 75.0)]
)
def test_heads_of_all_bodies_are_met_to_their_sides(sex, height, mass):
    """The head's breadth is scaled with the body's volume: what is looked at goes along."""
    person = person_of(sex, height, mass)
    head = head_back(person, 0.0)
    rise = np.linspace(person.skeleton.heights["tragion"], person.skeleton.heights["vertex"], 50)
    half = float(person.shape.trunk.at(rise, np.full(50, 0.5 * np.pi))[:, 1].max())
    beside = head.pivot + np.array([[0.05, share * half, 0.1] for share in (0.0, 0.9, 1.05)])
    assert np.isfinite(lifts(head, beside)).tolist() == [True, True, False]
    assert np.isfinite(head.angle).any(axis=1).all()


def test_faces_are_cut_small_enough_to_miss_no_contact():
    """A wall of two triangles behind the head is met where its nearest line is."""
    head = head_back(person_of("male", 1.8, 80.0), 0.0)
    x, z = head.pivot[0] + np.array([-0.3, 0.4]), head.pivot[2] + 0.11
    corners = [[x[0], -0.5, z], [x[1], -0.5, z], [x[1], 0.5, z], [x[0], 0.5, z]]
    wall = mesh_of(corners, [[0, 1, 2], [0, 2, 3]])
    line = np.stack([np.linspace(*x, 4001), np.zeros(4001), np.full(4001, z)], axis=1)
    found = lifts(head, points_near(head, wall)).min()
    assert found == pytest.approx(lifts(head, line).min(), abs=np.radians(0.5))


@pytest.fixture(scope="module")
def worn(dressed):
    return dressed("small-woman-steel", "cylinders.shift=0 cm").worn


def test_agrees_with_a_mesh_library_turning_the_head(worn):
    """The skin's own head, turned step by step until a first stage's corner is inside it. No hood, no neck: trimesh.

    The skin is smoothed and 2 cm coarse, the profile it was made from is not: 3 degrees are 6 mm at the back of it.
    """
    import trimesh

    person = worn.body.person
    head = head_back(person, 0.0)
    mesh = person.meshes["head"]
    solid = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    for part in worn.first_stages:
        points = points_near(head, part.solid.mesh)
        told = lifts(head, points)
        # only what the skull meets: the neck's own flesh gives way
        skull = np.argsort(told)[:400]
        near, first = points[skull] - head.pivot, float(told.min())

        def inside(angle, near=near):
            c, s = np.cos(angle), np.sin(angle)
            back = np.stack([c * near[:, 0] + s * near[:, 2], near[:, 1], c * near[:, 2] - s * near[:, 0]], axis=1)
            return bool((trimesh.proximity.signed_distance(solid, head.pivot + back) > 0.0).any())

        assert not inside(first - np.radians(3.0))
        assert inside(first + np.radians(3.0))


def test_what_is_met_first_is_the_least_of_all_points(worn):
    """Found with most triangles let go, over gear turned and moved about the head, far too near and out of reach."""
    head = head_back(worn.body.person, worn.hood)
    r = np.random.default_rng(5)
    gear = worn.first_stages[0].solid.mesh
    middle = gear.vertices.mean(axis=0)
    for _ in range(12):
        turn = np.linalg.qr(r.normal(size=(3, 3)))[0]
        place = head.pivot + r.uniform([-0.15, -0.1, -0.1], [0.2, 0.1, 0.25])
        mesh = replace(gear, vertices=(gear.vertices - middle) @ turn.T * r.uniform(0.5, 4.0) + place)
        least = lifts(head, points_near(head, mesh)).min(initial=np.inf)
        lift, point = first_met(head, mesh)
        assert lift == least
        assert point is None or lifts(head, point[None])[0] == least
        assert first_met(head, mesh, least) == (least, None)  # nothing is met sooner


def test_more_in_the_way_never_lifts_more(worn):
    head = head_back(worn.body.person, worn.hood)
    ball = ellipsoid([0.02, 0.02, 0.02], head.pivot + [0.05, 0.0, 0.15], 12, 16)
    alone = lifts(head, points_near(head, ball)).min()
    nearer = lifts(head, points_near(head, replace(ball, vertices=ball.vertices - [0.0, 0.0, 0.01]))).min()
    lower = lifts(head, points_near(head, replace(ball, vertices=ball.vertices - [0.02, 0.0, 0.0]))).min()
    assert nearer < alone < lower


def test_slivers_are_looked_at_as_closely_as_all_else_and_no_closer():
    """Of a sheet 300 mm long cut lengthwise into 200 slivers no place lies farther than the spacing from a point."""
    head = cylinder_head(0.4, 0.4)
    head = replace(head, y=np.linspace(0.0, 0.3, 9))
    x, y = np.array([-0.15, 0.15]), np.linspace(0.0, 0.1, 101)
    corners = np.array([[x[i], y[j], 0.3] for j in range(101) for i in (0, 1)]) + PIVOT
    low = 2 * np.arange(100)
    faces = np.concatenate([np.stack([low, low + 1, low + 3], 1), np.stack([low, low + 3, low + 2], 1)])
    spacing = 0.004
    points = points_near(head, mesh_of(corners, faces), spacing)
    places = np.random.default_rng(4).uniform([-0.15, 0.0, 0.3], [0.15, 0.1, 0.3], (500, 3)) + PIVOT
    assert cKDTree(points).query(places)[0].max() <= spacing
    # a sliver in pieces no longer than the spacing is at most 76 slices of two triangles, each cut once more
    assert len(points) <= 200 * 76 * 4 + 3 * len(faces)
