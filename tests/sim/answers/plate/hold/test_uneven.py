"""A strip with a thicker place and a weight on it: beams in pieces, and loads where they lie."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.plate.back_plate import Zone
from sim.answers.plate.hold.carried import Carried
from sim.answers.plate.hold.laid_on import driven, middle_of
from sim.answers.plate.hold.sheet_shell import sheet_shell
from sim.answers.plate.hold.uneven import FixedMass, Uneven
from sim.answers.plate.hold.ways import WAYS
from sim.shells.loads import on_edges, resultant, spread
from sim.shells.sheet_mesh import Fineness
from sim.shells.shell import Sheet
from sim.shells.solve import factored
from sim.shells.stress import face_stresses, worse_face
from tests.sim.answers.plate.hold.strips import LONG, strip

WIDE, STEP = 0.06, 0.17  # m; the thicker piece ends so far from the clamped end
SHEET = Sheet(0.003, 70e9, 0.0)
STRIP = strip(WIDE)
PUSH = 10.0  # N


def thicker(times: float, **sides: float) -> Uneven:
    """From the upper end on, unless told otherwise."""
    zone = Zone(
        **{"top": 0.0, "bottom": STEP, "inner": 0.0, "outer": 0.3, **sides}, thickness=times * SHEET.thickness
    )
    return Uneven(((zone, replace(SHEET, thickness=zone.thickness)),))


def cantilever(uneven: Uneven, widest: float = 0.02):
    """Clamped at the upper end, pushed away from the diver at the lower one: the shell and its displacements."""
    at = sheet_shell(STRIP, SHEET, Fineness(widest), uneven)
    shell = at.shell
    held = np.repeat((np.abs(shell.nodes[:, 0] - LONG / 2) < 1e-9)[:, None], 6, axis=1)
    end = on_edges(shell, shell.edges, (shell.flat[shell.edges[:, 2], 0] < -LONG / 2 + 1e-9).astype(float))
    return shell, factored(shell, held).displaced(spread(shell, end, [0.0, 0.0, PUSH], end.middle))


def second_moment(thickness: float) -> float:
    return WIDE * thickness**3 / 12.0


@pytest.mark.parametrize("times", [0.5, 1.0, 2.0])
def test_a_stepped_cantilever_gives_way_as_a_beam_in_two_pieces(times):
    """Bernoulli: each piece bends about its own middle, wherever its faces lie, since nothing pulls along it."""
    shell, moved = cantilever(thicker(times))
    free = LONG - STEP
    thick, thin = (second_moment(t * SHEET.thickness) for t in (times, 1.0))
    told = PUSH / (3.0 * SHEET.modulus) * ((LONG**3 - free**3) / thick + free**3 / thin)
    tip = moved[np.abs(shell.nodes[:, 0] + LONG / 2) < 1e-9, 2].mean()
    # shear, which beams leave out, adds (thickness / length)^2: a ten-thousandth; softened shear of long triangles
    # over a thin sheet as much again
    assert tip == pytest.approx(told, rel=1e-3)


def test_faces_of_each_piece_carry_the_moment_of_its_own_section_and_no_thrust():
    shell, moved = cantilever(thicker(2.0))
    stress = face_stresses(shell, moved)[:, :, :, 0]
    x = shell.nodes[shell.triangles].mean(axis=1)[:, 0]
    border = LONG / 2 - STEP
    for times, place in ((2.0, border + 0.09), (1.0, border - 0.09)):
        near = np.abs(x - place) < 0.03
        share = shell.areas[near].sum(axis=1) / shell.areas[near].sum()
        arm = share @ (x[near] + LONG / 2)
        told = PUSH * arm * times * SHEET.thickness / 2 / second_moment(times * SHEET.thickness)
        under, over = share @ stress[near].mean(axis=1)
        assert (over - under) / 2 == pytest.approx(-told, rel=0.01)
        assert (over + under) / 2 == pytest.approx(0.0, abs=0.01 * told)


def test_triangles_end_where_the_thickness_does_and_zones_are_alike_on_both_sides():
    uneven = thicker(3.0, top=0.1, bottom=0.25, inner=0.01, outer=0.02)
    shell = sheet_shell(STRIP, SHEET, Fineness(0.02), uneven).shell
    assert shell.areas[shell.of == 1].sum() == pytest.approx(2.0 * 0.15 * 0.01, rel=1e-9)
    assert shell.areas.sum() == pytest.approx(LONG * WIDE, rel=1e-9)
    middles = shell.flat[shell.triangles[shell.of == 1]].mean(axis=1)
    assert (np.abs(middles[:, 1]) > 0.01).all()
    assert (middles[:, 1] > 0.0).any()
    assert (middles[:, 1] < 0.0).any()


def test_a_zone_as_thick_as_the_sheet_changes_nothing_but_the_mesh():
    (plain, moved), (zoned, other) = cantilever(Uneven()), cantilever(thicker(1.0))
    assert len(plain.triangles) != len(zoned.triangles)
    assert np.abs(other[:, 2]).max() == pytest.approx(np.abs(moved[:, 2]).max(), rel=1e-3)
    assert worse_face(zoned, other).at_corners.max() == pytest.approx(
        worse_face(plain, moved).at_corners.max(), rel=0.02
    )


def test_a_place_that_bears_less_is_told_as_stressed_so_much_more():
    shell, moved = cantilever(thicker(2.0))
    weak = replace(shell, sheets=(SHEET, replace(shell.sheets[1], bears=0.25)))
    own, told = (worse_face(one, moved).at_corners for one in (shell, weak))
    inside = np.setdiff1d(shell.triangles[shell.of == 1][:, :3], shell.triangles[shell.of == 0][:, :3])
    outside = np.setdiff1d(shell.triangles[shell.of == 0][:, :3], shell.triangles[shell.of == 1][:, :3])
    assert told[inside] == pytest.approx(4.0 * own[inside])
    assert told[outside] == pytest.approx(own[outside])


@pytest.mark.parametrize("name", WAYS)
def test_what_is_fixed_weighs_where_it_lies(name):
    """The whole's weight and its moment, to rounding; all of what is fixed on the sheet that it covers."""
    lead = FixedMass(2.0, np.array([-0.12, 0.01, 0.02]), np.array([-0.15, -0.01]), np.array([-0.09, 0.03]))
    twins = Carried(27.0, np.array([-0.03, 0.0, 0.09]))
    uneven = replace(thicker(2.0), fixed=(lead,))
    at = sheet_shell(STRIP, SHEET, Fineness(0.02), uneven)
    down = 9.80665 * WAYS[name].load * np.array([0.0, 0.6, -0.8])
    loads = driven(WAYS[name], at, twins, 2700.0, down)
    bare = 2700.0 * WIDE * (STEP * 0.006 + (LONG - STEP) * 0.003)
    force, moment = resultant(at.shell, loads)
    assert force == pytest.approx((27.0 + 2.0 + bare) * down, rel=1e-9)
    assert moment == pytest.approx(np.cross((27.0 + 2.0 + bare) * middle_of(at, twins, 2700.0), down), abs=1e-6)
    own = loads - driven(WAYS[name], replace(at, fixed=()), twins, 2700.0, down)
    pushed = np.abs(own).max(axis=1) > 1e-12
    flat = at.shell.flat[pushed]
    assert (flat >= lead.low - 0.02).all()  # nodes of triangles that reach into it
    assert (flat <= lead.high + 0.02).all()
    assert own[:, :3].sum(axis=0) == pytest.approx(2.0 * down, rel=1e-9)
