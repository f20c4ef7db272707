"""By how much a centimetre of a dimension moves each answer."""

from dataclasses import replace

import pytest

from sim.answers.fit.dressed_person import drawn_person, dress_of, dressed_person
from sim.answers.fit.hung_rig import hung_rig
from sim.answers.fit.plate_on_person import banded
from sim.answers.plate import dimensions
from sim.answers.plate.bench import bench_plate
from sim.answers.plate.change import answer as room
from sim.answers.plate.change.answer import change_told, with_shares
from sim.answers.plate.divers.answer import reference_divers
from sim.answers.plate.laid import laid, wearing, worn_plate
from sim.person.population import many_drawn

LOOKED_AT = (dimensions.LENGTH, dimensions.WAIST_DOWN, dimensions.BOLTS_DOWN, dimensions.THICKNESS)


@pytest.fixture(scope="module")
def told():
    bench = bench_plate("small aluminium")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(room.Dimensions, "names", property(lambda _: LOOKED_AT))
        return change_told(bench, reference_divers(bench)[:1])


def moves(told, name):
    return next(lever for lever in told.levers if lever.dimension == name).divers[0].moves


def test_a_plate_hung_by_slots_a_centimetre_lower_on_it_ends_a_centimetre_higher(told):
    # but for its slope on the back, which follows its ends: the cosine of 20 degrees at most
    assert moves(told, dimensions.LENGTH).length == pytest.approx(-0.01, rel=0.06)
    assert moves(told, dimensions.WAIST_DOWN).length == pytest.approx(0.01, rel=0.06)


def test_bolts_and_slots_put_the_cylinders_elsewhere_each_the_other_way_round(told):
    up, down = moves(told, dimensions.WAIST_DOWN), moves(told, dimensions.BOLTS_DOWN)
    assert up.start_moment * down.start_moment < 0.0
    # the plate itself, a kilogram, goes along with one of the two only; so does the slope on which all hangs
    assert up.start_moment == pytest.approx(-down.start_moment, rel=0.3)
    assert up.reach * down.reach < 0.0


def test_thickness_adds_its_mass_and_no_more(told):
    lever = next(lever for lever in told.levers if lever.dimension == dimensions.THICKNESS)
    plate = bench_plate("small aluminium").plate.solid
    # bends keep the radius of their middle, so the sheet's volume is its flat area times its thickness
    assert lever.mass == pytest.approx(plate.mass / 3.2, rel=1e-3)
    assert lever.divers[0].moves.carried == pytest.approx(lever.mass, rel=0.02)
    assert lever.sides == pytest.approx((0.5, -0.5))


def test_the_share_moves_as_two_plates_worked_out_by_themselves(told):
    bench = bench_plate("small aluminium")
    case, men = wearing(bench), many_drawn("male", 2)
    people = [men.person(i) for i in range(2)]
    only = replace(told, levers=tuple(lv for lv in told.levers if lv.dimension == dimensions.LENGTH))
    (lever,) = with_shares(only, bench, case, people, "two men").levers
    ends = [side / 100.0 for side in lever.sides]
    ends = ends if len(ends) == 2 else [*ends, 0.0]
    shares = []
    for by in ends:
        now = dimensions.Dimensions(bench)
        moved = now.with_values({dimensions.LENGTH: now.now[dimensions.LENGTH] + by})
        worn = worn_plate(laid(case, moved))
        rig, dress = hung_rig("", worn), dress_of(worn)
        fits = [banded(rig, dressed_person(drawn_person(who), dress)) for who in people]
        shares.append(sum(fit.bands is not None for fit in fits) / len(people))
    assert lever.share == pytest.approx((shares[0] - shares[1]) / (100.0 * (ends[0] - ends[1])), abs=1e-12)
    assert lever.share < 0.0  # one of them has a back too short for it
