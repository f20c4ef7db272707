"""A plain strip carried in every way: what holds it balances it, and a section carries what lies beyond."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.plate.sheet import Bend
from sim.answers.plate.hold import held
from sim.answers.plate.hold.carried import Carried
from sim.answers.plate.hold.laid_on import driven, felt_when
from sim.answers.plate.hold.laid_on import held as balanced
from sim.answers.plate.hold.on_floor import CELL, TipsOverError, floor_forces, on_floor
from sim.answers.plate.hold.resting import at_rest, resting
from sim.answers.plate.hold.sheet_shell import sheet_shell
from sim.answers.plate.hold.ways import WAYS
from sim.shells import planar_mesh
from sim.shells.loads import resultant
from sim.shells.sheet_mesh import Fineness
from sim.shells.shell import Sheet
from sim.shells.solve import balanced_hold, factored
from sim.shells.stress import face_stresses
from tests.sim.answers.plate.hold.strips import LONG, strip, with_points

WIDE = 0.08
SHEET, DENSITY = Sheet(0.003, 70e9, 0.0), 2700.0
TWINS = Carried(27.0, np.array([-0.03, 0.0, 0.09]))
STRIP = strip(WIDE)


@pytest.fixture(scope="module", name="strip")
def laid_strip():
    at = sheet_shell(STRIP, SHEET, Fineness(0.02))
    return at, factored(at.shell, balanced_hold(at.shell))


def laid(name, strip):
    at, factor = strip
    pulled = driven(WAYS[name], at, TWINS, DENSITY)
    if name == "vehicle":
        return pulled, on_floor(at, pulled, floor_forces(at, factor, pulled))
    return pulled, balanced(WAYS[name], at, pulled)


@pytest.mark.parametrize("name", WAYS)
def test_all_that_weighs_is_held_and_nothing_is_left_over(name, strip):
    at, _ = strip
    pulled, whole = laid(name, strip)
    force, moment = resultant(at.shell, pulled)
    weight = (TWINS.mass + DENSITY * LONG * WIDE * SHEET.thickness) * 9.80665 * WAYS[name].load
    assert np.linalg.norm(force) == pytest.approx(weight, rel=1e-9)
    left = np.concatenate(resultant(at.shell, whole))
    # the floor's own forces are found to a thousandth
    assert np.abs(left).max() < (1e-3 if name == "vehicle" else 1e-6) * max(weight, np.abs(moment).max())


@pytest.mark.parametrize("name", WAYS)
@pytest.mark.parametrize("cut", [-0.05, 0.05])
def test_a_section_carries_what_is_loaded_beyond_it(name, cut, strip):
    """As a beam does: bending stress adds up to the moment of the loads below the cut, and thrust to their force."""
    at, factor = strip
    shell = at.shell
    _, whole = laid(name, strip)
    below = shell.nodes[:, 0] < cut
    force = whole[below, :3].sum(axis=0)
    arms = shell.nodes[below] - [cut, 0.0, SHEET.thickness / 2]
    moment = (np.cross(arms, whole[below, :3]) + whole[below, 3:]).sum(axis=0)[1]
    stress = face_stresses(shell, factor.displaced(whole))[:, :, :, 0]
    # averaged over triangles around the cut, where the moment of what lies between has no say in the mean
    near = np.abs(at.seen[:, :, 0].mean(axis=1) - cut) < 0.02
    share = shell.areas[near].sum(axis=1) / shell.areas[near].sum()
    bending = share @ (stress[near, :, 1] - stress[near, :, 0]).mean(axis=1) / 2
    thrust = share @ (stress[near, :, 1] + stress[near, :, 0]).mean(axis=1) / 2
    told = abs(moment) / (WIDE * SHEET.thickness**2 / 6.0)
    scale = abs(stress).max()
    assert abs(bending) == pytest.approx(told, rel=0.05, abs=0.02 * scale)
    assert thrust == pytest.approx(force[0] / (WIDE * SHEET.thickness) * -1.0, abs=0.02 * scale)


def test_a_floor_pushes_and_never_pulls(strip):
    at, factor = strip
    floor = floor_forces(at, factor, driven(WAYS["vehicle"], at, TWINS, DENSITY))
    assert (floor.pushes >= 0.0).all()
    assert (floor.pushes > 0.0).sum() >= 3
    high = replace(TWINS, cm=np.array([0.3, 0.0, 0.09]))
    with pytest.raises(ValueError, match="tip over"):
        floor_forces(at, factor, driven(WAYS["vehicle"], at, high, DENSITY))


def test_under_a_stiff_plate_the_floor_gives_way_evenly():
    """As a rigid footing: the pressure is linear over it, F / A + M x / I."""
    stiff = Sheet(0.06, 200e9, 0.0)
    at = sheet_shell(STRIP, stiff, Fineness(0.02))
    loads = driven(WAYS["vehicle"], at, replace(TWINS, cm=np.array([0.03, 0.0, 0.09])), DENSITY)
    floor = floor_forces(at, factored(at.shell, balanced_hold(at.shell)), loads)
    corner = np.floor(at.seen.reshape(-1, 2) / CELL).astype(int)
    area = np.array([at.shell.areas.ravel()[(corner == cell).all(axis=1)].sum() for cell in floor.cells])
    force, moment = resultant(at.shell, loads)
    x = floor.middles[:, 0]
    spread = (area * x**2).sum() / area.sum()
    pressure = -force[2] / area.sum() * (1.0 - moment[1] / force[2] * x / spread)
    assert floor.pushes / area == pytest.approx(pressure, rel=0.05)


def test_lifted_the_whole_hangs_below_the_hand(strip):
    at, _ = strip
    felt = felt_when(WAYS["lifted"], at, TWINS, DENSITY)
    # the sheet's own middle weighs in by its share
    sheet = DENSITY * LONG * WIDE * SHEET.thickness
    middle = (TWINS.mass * TWINS.cm + sheet * np.array([0.0, 0.0, SHEET.thickness / 2])) / (TWINS.mass + sheet)
    down = middle - [0.18, 0.0, SHEET.thickness / 2]
    assert np.cross(felt, down) == pytest.approx(np.zeros(3), abs=0.02 * np.linalg.norm(felt) * np.linalg.norm(down))
    assert felt @ down > 0.0


def test_a_mesh_that_grows_too_large_is_done_without_and_its_error_is_told(monkeypatch):
    monkeypatch.setattr(held, "FIRST", Fineness(0.03))
    monkeypatch.setattr(held, "STANDS", -1.0)  # never

    def job():
        return held.plate_held(STRIP, SHEET, 0.0, TWINS, (WAYS["lifted"],))

    sizes = job().triangles
    monkeypatch.setattr(
        planar_mesh, "MOST", sizes[2] // 2 - 20
    )  # points are half as many as triangles, and the edge's
    assert job().triangles == sizes[:2]
    monkeypatch.setattr(planar_mesh, "MOST", sizes[1] // 2 - 20)
    once = job()
    assert once.triangles == sizes[:1]
    assert once.changes == pytest.approx([0.0])
    monkeypatch.setattr(planar_mesh, "MOST", 10)
    with pytest.raises(ValueError, match="needed for a mesh"):
        job()


def test_twice_the_mass_is_twice_the_stress_and_the_mesh_refines_alike(monkeypatch):
    monkeypatch.setattr(held, "FIRST", Fineness(0.03))
    monkeypatch.setattr(held, "UNSURE", 0.1)
    once, twice = (
        held.plate_held(STRIP, SHEET, 0.0, replace(TWINS, mass=mass), tuple(WAYS.values()), meshes=2)
        for mass in (10.0, 20.0)
    )
    assert once.triangles == twice.triangles
    assert len(once.triangles) == 2
    # the floor's forces to a thousandth
    assert (twice.peaks / once.peaks).ravel() == pytest.approx(2.0, rel=2e-3)
    assert [w.deflection for w in twice.ways] == pytest.approx([2.0 * w.deflection for w in once.ways], rel=2e-3)


def flanged(angle):
    """A strip narrower at its lower end, both sides of which are bent toward the diver."""
    corners = np.array([[-0.2, -0.06], [0.1, -0.1], [0.1, 0.1], [-0.2, 0.06]])
    bends = tuple(Bend(side * 0.035, -angle, 0.006) for side in (-1.0, 1.0))
    return with_points(corners, bends)


def test_a_plate_that_would_tip_over_rolls_onto_the_points_that_hold_it():
    """Rigid bodies: it stands level on four corners, two and two alike, none of the sheet below, loads in balance."""
    at = sheet_shell(flanged(np.radians(45.0)), SHEET, Fineness(0.02))
    vehicle = WAYS["vehicle"]
    factor = factored(at.shell, balanced_hold(at.shell))
    with pytest.raises(TipsOverError):
        floor_forces(at, factor, driven(vehicle, at, TWINS, DENSITY))
    rest = resting(at, TWINS, DENSITY)
    depths = at.shell.nodes @ rest.down
    assert rest.points @ rest.down == pytest.approx(depths.max(), abs=1e-6)
    assert len(rest.points) == 4
    # both sides' corners lie as far forward as the width of the flange there and its slope say
    one, other = (rest.points[np.isclose(rest.points[:, 0], x)] for x in (-0.2, 0.1))
    rise = (0.1 - 0.06) * np.sin(np.radians(45.0))
    assert rest.tilt == pytest.approx(np.arctan(rise / 0.3), rel=1e-3)
    assert len(one) == len(other) == 2
    whole = at_rest(vehicle, at, TWINS, DENSITY, rest)
    pulled = driven(vehicle, at, TWINS, DENSITY, vehicle.load * 9.80665 * rest.down)
    weight, left = np.linalg.norm(resultant(at.shell, pulled)[0]), np.concatenate(resultant(at.shell, whole))
    assert np.abs(left).max() < 1e-5 * weight


def test_a_plate_that_nothing_of_it_holds_is_carried_in_the_other_ways(monkeypatch):
    monkeypatch.setattr(held, "FIRST", Fineness(0.03))
    high = replace(TWINS, cm=np.array([0.3, 0.0, 0.09]))
    found = held.plate_held(STRIP, SHEET, DENSITY, high, tuple(WAYS.values()), meshes=2)
    assert [way.way.name for way in found.ways] == ["standing", "lifted", "set down"]
    assert found.peaks.shape[1] == len(found.changes) == 3
    with pytest.raises(TipsOverError):
        held.plate_held(STRIP, SHEET, DENSITY, high, (WAYS["vehicle"],), meshes=1)
