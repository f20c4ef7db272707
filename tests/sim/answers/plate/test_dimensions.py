"""The dimensions of a plate, changed one at a time."""

import numpy as np
import pytest

from meshes.plate.edges import edges_of
from sim.answers.plate import dimensions
from sim.answers.plate.bench import bench_plate
from sim.answers.plate.dimensions import Dimensions, measure_of, places_of

ROUNDED = 1e-9  # m: what unfolding and folding a place again leaves


@pytest.mark.parametrize("name", ["small steel", "standard carbon"])
def test_stating_its_own_dimensions_leaves_the_plate_as_it_is(name):
    bench = bench_plate(name)
    again = Dimensions(bench).with_values({})
    assert again.plate.solid.mass == pytest.approx(bench.plate.solid.mass, rel=1e-9)
    assert again.plate.solid.cm == pytest.approx(bench.plate.solid.cm, abs=ROUNDED)
    assert again.plate.shoulder_slots == pytest.approx(bench.plate.shoulder_slots, abs=ROUNDED)


def test_each_dimension_grows_alone():
    bench = bench_plate("standard aluminium")
    before = Dimensions(bench)
    for name in before.names:
        step = 0.2 * measure_of(name).step
        after = Dimensions(before.with_values({name: before.now[name] + step})).now
        grown = {n: after[n] - before.now[n] for n in before.now if abs(after[n] - before.now[n]) > 1e-7}
        wanted = {name: step}
        if name == dimensions.LENGTH:  # the crotch slot goes along with the lower edge
            wanted[dimensions.CROTCH_DOWN] = step
        assert grown == pytest.approx(wanted, abs=1e-7), name


def test_a_longer_plate_is_longer_at_its_lower_edge():
    before = Dimensions(bench_plate("standard steel"))
    longer = before.with_values({dimensions.LENGTH: before.now[dimensions.LENGTH] + 0.01})
    assert edges_of(longer.plate.pattern.outline.outer).length == pytest.approx(0.41, abs=1e-9)
    places = places_of(longer.plate)
    for name in (dimensions.WAIST_DOWN, dimensions.SHOULDER_DOWN, dimensions.BOLTS_DOWN):
        assert places[name] == pytest.approx(before.now[name], abs=ROUNDED)


def test_a_weighed_plate_keeps_its_density_not_its_mass():
    weighed = Dimensions(bench_plate("standard steel", ['plate.mass="2.8 kg"']))
    longer = weighed.with_values({dimensions.LENGTH: 0.42})
    solid, before = longer.plate.solid, weighed.bench.plate.solid
    assert solid.mass / solid.volume == pytest.approx(before.mass / before.volume, rel=1e-9)
    assert solid.mass > before.mass


def test_a_drawing_is_drawn_anew_longer_wider_and_with_other_bends(tmp_path):
    from sim.answers.plate.export import export_plate

    drawing = tmp_path / "flat.dxf"
    export_plate(bench_plate("small aluminium"), drawing, ".dxf")
    found = Dimensions(bench_plate(drawing, ["plate.material=aluminium", "plate.thickness=3.2 mm"]))
    assert dimensions.WIDTH not in found.names
    for name in (dimensions.LENGTH, dimensions.FLAT_WIDTH, dimensions.WAIST_DOWN):
        after = Dimensions(found.with_values({name: found.now[name] + 0.003})).now
        grown = {n: after[n] - found.now[n] for n in found.now if abs(after[n] - found.now[n]) > 1e-6}
        lower = {dimensions.CROTCH_DOWN: 0.003} if name == dimensions.LENGTH else {}
        assert grown == pytest.approx({name: 0.003, **lower}, abs=2e-6)  # a drawing's digits
    moved = found.with_values({dimensions.WAIST_DOWN: found.now[dimensions.WAIST_DOWN] - 0.004}).plate
    for slot, hole in zip(moved.pattern.points.waist_slots, _slots(moved), strict=True):  # the opening goes along
        assert hole == pytest.approx(slot, abs=2e-6)
    angle = "bend 1, angle"
    assert abs(np.degrees(found.now[angle])) == pytest.approx(75.0, abs=1e-6)
    steeper = Dimensions(found.with_values({angle: found.now[angle] * 1.05}))
    assert steeper.now[angle] == pytest.approx(1.05 * found.now[angle])
    assert steeper.now["bend 2, angle"] == pytest.approx(found.now["bend 2, angle"])
    all_steeper = Dimensions(found.with_values({dimensions.ANGLE: np.radians(80.0)}))
    for number in (1, 2):
        assert abs(np.degrees(all_steeper.now[f"bend {number}, angle"])) == pytest.approx(80.0, abs=1e-6)


def _slots(plate):
    """Middles of the openings nearest to the waist slots, left and right."""
    middles = np.array([(h.min(axis=0) + h.max(axis=0)) / 2 for h in plate.pattern.outline.holes])
    return [middles[np.linalg.norm(middles - slot, axis=1).argmin()] for slot in plate.pattern.points.waist_slots]
