import numpy as np
import pytest

from sim.shells.loads import on_area, on_edges, resultant, spread, weight
from sim.shells.shell import Sheet, shell_of, stiffness
from sim.shells.solve import balanced_hold, factored
from sim.shells.stress import face_stresses, worse_face
from tests.sim.shells.rectangles import on_edge, plate, rectangle

SHEET = Sheet(0.003, 70e9, 0.3)


def roof(flat, slope=0.7):
    """Folded along y = 0.1: what lies beyond goes up."""
    beyond = np.maximum(flat[:, 1] - 0.1, 0.0)
    return np.stack([flat[:, 0], flat[:, 1] - beyond * (1.0 - np.cos(slope)), beyond * np.sin(slope)], axis=1)


def moving(shell, shift, turn):
    """A small motion as a whole (k, 6)."""
    turned = np.broadcast_to(np.asarray(turn), shell.nodes.shape)
    return np.concatenate([np.asarray(shift) + np.cross(turned, shell.nodes), turned], axis=1)


def test_a_motion_as_a_whole_costs_nothing():
    shell = shell_of(rectangle(0.3, 0.2, 6, 4), SHEET, roof)
    matrix = stiffness(shell)
    moved = moving(shell, [0.1, -0.2, 0.3], [0.4, 0.5, -0.6])
    assert np.abs(matrix @ moved.ravel()).max() < 1e-9 * abs(matrix).max()
    assert np.abs(matrix - matrix.T).max() < 1e-12 * abs(matrix).max()


# even strains and curvatures of a sheet of any kind: displacement and turn by x and y
EVEN = {
    "drawn out": lambda x, y: (2.0 * x, -0.5 * y, 0 * x, 0 * x, 0 * x, 0 * x),
    "sheared": lambda x, y: (0.7 * y, 0.2 * x, 0 * x, 0 * x, 0 * x, 0 * x - 0.25),
    "bent": lambda x, y: (0 * x, 0 * x, x**2 / 2 - y**2, -2.0 * y, -x, 0 * x),
    "twisted": lambda x, y: (0 * x, 0 * x, x * y, x, -y, 0 * x),
}


@pytest.mark.parametrize("name", EVEN)
def test_patch(name):
    """Even strain is in balance at every inner node of any mesh, and told exactly."""
    shell = shell_of(rectangle(0.3, 0.2, 4, 3, shaken=0.25), SHEET)
    x, y = shell.flat.T
    moved = np.stack(EVEN[name](x, y), axis=1)
    matrix = stiffness(shell)
    inner = ~np.isin(np.arange(len(x)), shell.edges)
    forces = (matrix @ moved.ravel()).reshape(-1, 6)
    assert np.abs(forces[inner]).max() < 1e-9 * (abs(matrix) @ np.abs(moved.ravel())).max()
    stress = face_stresses(shell, moved)
    half = SHEET.thickness / 2
    c = SHEET.modulus / (1.0 - 0.3**2)
    expected = {
        "drawn out": c * np.array([[2.0 - 0.15, -0.5 + 0.6, 0.0]] * 2),
        "sheared": c * np.array([[0.0, 0.0, 0.35 * 0.9]] * 2),
        "bent": half * c * np.array([[1.0 - 0.6, -2.0 + 0.3, 0.0], [-1.0 + 0.6, 2.0 - 0.3, 0.0]]),
        "twisted": half * c * np.array([[0.0, 0.0, 0.7], [0.0, 0.0, -0.7]]),
    }[name]
    # the frames of triangles lie along x and y
    assert np.abs(stress - expected).max() < 1e-9 * np.abs(expected).max()


def test_a_strip_held_at_one_end_is_a_beam():
    """Without cross contraction: F L^3 / 3 E I and a shear of F L / (5/6 G A), F L / W at its root."""
    sheet, long, wide, force = Sheet(0.003, 70e9, 0.0), 0.3, 0.02, 5.0
    inertia, area = wide * sheet.thickness**3 / 12.0, wide * sheet.thickness
    exact = force * long**3 / (3.0 * sheet.modulus * inertia) + force * long / (
        5.0 / 6.0 * sheet.shear_modulus * area
    )
    root = force * long / (wide * sheet.thickness**2 / 6.0)
    bend, stress = [], []
    for along in (4, 8, 16):
        shell = plate(sheet, long, wide, along, 2)
        held = np.repeat(on_edge(shell, 0, 0.0)[:, None], 6, axis=1)
        tip = on_edge(shell, 0, long)[shell.edges].all(axis=1)
        patch = on_edges(shell, shell.edges[tip], np.ones(int(tip.sum())))
        moved = factored(shell, held).displaced(spread(shell, patch, [0.0, 0.0, force], [long, wide / 2, 0.0]))
        bend.append(abs(moved[on_edge(shell, 0, long), 2].mean() / exact - 1.0))
        stress.append(abs(worse_face(shell, moved).at_corners.max() / root - 1.0))
    assert bend[2] < 0.001
    assert np.log2(bend[0] / bend[2]) / 2.0 > 1.9
    assert stress[2] < 0.02
    assert np.log2(stress[0] / stress[2]) / 2.0 > 1.0


def test_a_strip_folded_square_is_a_frame():
    """Pushed at its end along its first leg: F b^2 a / E I + F b^3 / 3 E I (Castigliano)."""
    sheet, a, b, wide, force = Sheet(0.002, 70e9, 0.0), 0.2, 0.1, 0.02, 3.0
    flat = rectangle(wide, a + b, 2, 12)

    def folded(points):
        up = np.maximum(points[:, 1] - a, 0.0)
        return np.stack([points[:, 0], points[:, 1] - up, up], axis=1)

    shell = shell_of(flat, sheet, folded)
    held = np.repeat(on_edge(shell, 1, 0.0)[:, None], 6, axis=1)
    tip = on_edge(shell, 1, a + b)[shell.edges].all(axis=1)
    patch = on_edges(shell, shell.edges[tip], np.ones(int(tip.sum())))
    moved = factored(shell, held).displaced(spread(shell, patch, [0.0, force, 0.0], [wide / 2, a, b]))
    stiff = sheet.modulus * wide * sheet.thickness**3 / 12.0
    exact = force * b**2 * a / stiff + force * b**3 / (3.0 * stiff)
    assert moved[on_edge(shell, 1, a + b), 1].mean() == pytest.approx(exact, rel=0.003)


def test_facets_stand_for_a_bend_at_second_order():
    """A quarter of a circle held at one end, pushed at the other square to it: pi F R^3 / 4 E I."""
    sheet, radius, wide, force = Sheet(0.001, 70e9, 0.0), 0.1, 0.02, 1.0
    exact = np.pi * force * radius**3 / (4.0 * sheet.modulus * wide * sheet.thickness**3 / 12.0)
    off = []
    for facets in (2, 4, 8):
        mesh = rectangle(wide, radius * np.pi / 2, 1, 3 * facets if facets < 4 else 2 * facets)
        corners = radius * np.pi / 2 * np.arange(facets + 1) / facets

        def bent(points, corners=corners):
            at = np.stack([radius * np.sin(corners / radius), radius * (1.0 - np.cos(corners / radius))])
            return np.stack([points[:, 0], *(np.interp(points[:, 1], corners, k) for k in at)], axis=1)

        shell = shell_of(mesh, sheet, bent)
        end = radius * np.pi / 2
        held = np.repeat(on_edge(shell, 1, 0.0)[:, None], 6, axis=1)
        tip = on_edge(shell, 1, end)[shell.edges].all(axis=1)
        patch = on_edges(shell, shell.edges[tip], np.ones(int(tip.sum())))
        point = [wide / 2, radius, radius]
        moved = factored(shell, held).displaced(spread(shell, patch, [0.0, force, 0.0], point))
        off.append(abs(moved[on_edge(shell, 1, end), 1].mean() / exact - 1.0))
    assert off[2] < 0.01
    assert np.log2(off[0] / off[2]) / 2.0 > 1.7


@pytest.mark.parametrize("kind", ["area", "edge"])
def test_a_spread_load_has_the_force_and_moment_of_the_one_it_stands_for(kind):
    shell = shell_of(rectangle(0.3, 0.2, 6, 4), SHEET, roof)
    force, point = np.array([3.0, -5.0, 7.0]), np.array([0.5, 0.05, -0.2])
    if kind == "area":
        patch = on_area(shell, (shell.places[:, :, 0] < 0.1) * 1.0)
    else:
        own = shell.edges[on_edge(shell, 0, 0.0)[shell.edges].all(axis=1) & (shell.flat[shell.edges[:, 2], 1] < 0.1)]
        patch = on_edges(shell, own, np.ones(len(own)))
    whole, moment = resultant(shell, spread(shell, patch, force, point))
    assert whole == pytest.approx(force, abs=1e-12)
    assert moment == pytest.approx(np.cross(point, force), abs=1e-9)


def test_weight():
    shell = shell_of(rectangle(0.3, 0.2, 6, 4), SHEET, roof)
    whole, moment = resultant(shell, weight(shell, 2700.0, [0.0, 0.0, -9.81]))
    mass = 2700.0 * 0.003 * 0.06
    # the level half's middle lies at y = 0.05, that of the other at 0.1 + 0.05 cos 0.7
    middle = (0.05 + 0.1 + 0.05 * np.cos(0.7)) / 2
    assert whole == pytest.approx([0.0, 0.0, -9.81 * mass], rel=1e-9)
    assert moment == pytest.approx([-9.81 * mass * middle, 9.81 * mass * 0.15, 0.0], rel=1e-9)


def test_loads_in_balance_need_no_hold():
    shell = shell_of(rectangle(0.3, 0.2, 6, 4), SHEET, roof)
    loads = weight(shell, 2700.0, [0.0, 0.0, -9.81])
    whole, moment = resultant(shell, loads)
    left = np.cross(moment, whole) / (whole @ whole)  # a point on the line along which one force does the same
    patch = on_area(shell, (shell.places[:, :, 0] < 0.1) * 1.0)
    loads = loads + spread(shell, patch, -whole, -left)
    assert np.abs(np.concatenate(resultant(shell, loads))).max() < 1e-9
    solved = factored(shell, balanced_hold(shell))
    moved = solved.displaced(loads)
    pushes = stiffness(shell) @ moved.ravel() - loads.ravel()
    assert np.abs(pushes).max() < 1e-6 * np.abs(loads).max()
