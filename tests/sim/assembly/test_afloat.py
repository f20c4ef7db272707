from dataclasses import replace

import numpy as np
import pytest

from meshes.mesh import mirrored as mirrored_mesh
from meshes.solid import mirrored, volume_integrals
from scenarios.demos import demo_path
from sim.assembly.afloat import diver_afloat
from sim.assembly.from_file import assembled_from_file
from sim.floating.body import extent
from sim.floating.energy import afloat
from sim.floating.equilibrium import floats_from
from sim.rig import rig_of
from sim.statics.field import field, soft_rig


@pytest.fixture(scope="module", params=["small-woman-steel", "single-wetsuit"])
def assembled(request):
    return assembled_from_file(demo_path(request.param), ["water.depth=0.5 m"])


def test_wholly_under_water_it_is_the_rig_of_the_statics(assembled):
    """Lift and moment far down, where no part is cut, are those of the rig with the wing full.

    Gas in the suit is at another pressure there; without it the sums are the same but for rounding.
    """
    room = float(assembled.rig.wing.law.most.sum())
    rig = replace(assembled.rig, suit=None, wing=replace(assembled.rig.wing, gas=room * (1.0 - 1e-12)))
    body = diver_afloat(replace(assembled, rig=replace(rig, wing=replace(rig.wing, gas=None))), 0.5).body
    for u in ([0.0, 0.0, 1.0], [0.6, 0.0, -0.8], [0.0, 1.0, 0.0]):
        up = np.array(u)
        found = afloat(body, up, extent(body, up)[1] + 0.1)
        whole = field(soft_rig(rig), up[None])
        held = body.mass * body.gravity
        assert found.slope[0] / body.gravity == pytest.approx(float(whole.net_buoyancy[0]), abs=1e-9)
        # about the held point: the force acts there too
        about = found.slope[1:] + found.slope[0] * rig.held
        assert np.cross(up, about) == pytest.approx(np.cross(up, whole.d[0]), abs=1e-9 * held)


def test_the_body_stays_nearly_as_drawn(assembled):
    """What it costs to have the rig's volume and CB: under a seventh of a segment, under 6 mm."""
    hulls = diver_afloat(assembled, 0.5).body.hulls
    for hull, (_, mesh) in zip(hulls, assembled.looks.segments, strict=False):
        own = volume_integrals(mesh)
        assert hull.share == pytest.approx(1.0, abs=0.14)
        assert np.linalg.norm(hull.first / hull.volume - own.centroid) < 6e-3


def test_floats_with_its_weight_of_water(assembled):
    diver = diver_afloat(assembled, 0.5)
    rest = floats_from(diver.body, np.array([0.05, 0.06, -1.0]))
    assert rest.settled
    gas = sum(g.bag.weight / diver.body.gravity for g in diver.body.gas)
    assert abs(rest.state.slope[0]) < 1e-6 * diver.body.mass * diver.body.gravity
    if not gas:  # else the suit's gas, which weighs a little, is in what is displaced but not in the mass
        assert rest.state.volume * diver.body.density == pytest.approx(diver.body.mass, rel=1e-9)


def test_left_and_right_alike(assembled):
    """The mirrored diver floats at mirrored rests; the bag alone keeps its triangles, whose diagonals go one way."""
    flip = np.array([1.0, -1.0, 1.0])
    rig = assembled.rig
    parts = [replace(p, solid=mirrored(p.solid)) for p in rig.parts]
    suit, wing = (None if p is None else replace(p, cells=p.cells * flip) for p in (rig.suit, rig.wing))
    looks = replace(assembled.looks, segments=tuple((n, mirrored_mesh(m)) for n, m in assembled.looks.segments))
    image = replace(assembled, looks=looks, rig=rig_of(parts, rig.water, suit=suit, wing=wing, held=rig.held * flip))
    start = np.array([0.05, 0.06, -1.0])
    plain = floats_from(diver_afloat(assembled, 0.5).body, start)
    other = floats_from(diver_afloat(image, 0.5).body, start * flip)
    assert other.up * flip == pytest.approx(plain.up, abs=1e-3)
    assert other.level == pytest.approx(plain.level, abs=1e-4)


def test_stated_wing_gas_moves_and_a_full_wing_does_not(assembled):
    full = diver_afloat(assembled, 0.5)
    some = replace(assembled, rig=replace(assembled.rig, wing=replace(assembled.rig.wing, gas=5e-3)))
    part = diver_afloat(some, 0.5)
    assert full.wing_full
    assert full.wing_gas == pytest.approx(float(assembled.rig.wing.law.most.sum()), rel=1e-12)
    assert not part.wing_full
    assert part.wing_gas == 5e-3
    assert len(part.body.gas) == len(full.body.gas) + 1


def test_a_rig_of_numbers_is_refused(assembled):
    with pytest.raises(ValueError, match="no shape"):
        diver_afloat(replace(assembled, looks=None), 0.5)
