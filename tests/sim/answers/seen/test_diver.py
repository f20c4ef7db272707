"""What moves the moment, against rigs assembled whole with the cause in them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from meshes.solid import Solid
from scenarios.demos import demo_path
from sim.answers.seen.diver import (
    WORKED,
    evenly,
    head_room_of,
    moments_of,
    seen_diver,
    settings_of,
    unknowns_from,
)
from sim.answers.seen.levers import TO_ANKLES, Levers, levers_of
from sim.answers.seen.typed import sight_of
from sim.case import Case
from sim.rig import Part, Rig, Water, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.rig_numbers import VOLUME, numbers_of
from sim.uncertainty.sampling import Shape
from sim.uncertainty.variates import UncertainRig, Variate

NAME = "tall-man-steel"
NEARLY = 0.1  # N m a kilogram: the wing's gas moves its own middle as it gives way


@cache
def case() -> Case:
    return Case.read(demo_path(NAME))


@cache
def levers() -> Levers:
    return levers_of(case(), case().rig, flat_answer(soft_rig(case().rig)))


def moment(rig: Rig) -> float:
    return flat_answer(soft_rig(rig)).pitch_moment


def changed(**settings: str) -> float:
    """Change of the moment [N m], the gas in the suit as it was."""
    told = case().rig
    rig = case().vary({k.replace("__", "."): v for k, v in settings.items()}).rig
    assert told.suit is not None
    assert rig.suit is not None
    return moment(replace(rig, suit=replace(rig.suit, gas=told.suit.gas))) - moment(told)


@pytest.mark.parametrize("raised", [-0.02, 0.02, 0.08])
def test_a_rig_that_hangs_higher_turns_the_diver_in_proportion(raised) -> None:
    there = case().vary({"harness.drop": f"{-100.0 * raised} cm"}).rig
    assert moment(there) - moment(case().rig) == pytest.approx(raised * levers().raise_rig, abs=0.35)


def test_lead_turns_the_diver_by_what_it_weighs() -> None:
    tail, ankles = case().scenario("").lead
    share = 0.5 / (tail.mass + ankles.mass)  # half a kilogram more, over the places as it is worn
    found = changed(
        lead__0__mass=f"{tail.mass * (1.0 + share)} kg", lead__1__mass=f"{ankles.mass * (1.0 + share)} kg"
    )
    assert found == pytest.approx(0.5 * levers().lead_mass, abs=0.5 * NEARLY)


def test_gas_in_the_cylinders_turns_the_diver_by_what_it_weighs() -> None:
    assert changed(cylinders__pressure="150 bar") == pytest.approx(-5e6 * levers().pressure, abs=0.15)


def test_a_kilogram_moved_to_the_ankles_does_what_lead_does_there() -> None:
    off = case().vary({"lead.0.place": "belt"})
    there = off.vary({"lead.0.mass": "0.1 kg", "lead.1.mass": f"{1.5 + 0.4} kg"})
    found = (moment(there.rig) - moment(off.rig)) / 0.4
    assert found == pytest.approx(levers().kilogram[TO_ANKLES], abs=0.7)  # ankles hang 6 cm up the shank, belts vary


def test_a_litre_in_the_feet_lifts_them_as_a_litre_of_nothing_there() -> None:
    rig = case().rig
    ankles = [case().wearer.body.joints[f"{side} ankle"] for side in ("left", "right")]  # type: ignore[union-attr]
    at = np.mean(ankles, axis=0)
    assert rig.suit is not None
    litre = Part("gas", "other", Solid(1e-3 * rig.suit.gas_density, at, np.zeros((3, 3)), 1e-3, at))
    found = moment(rig_of([*rig.parts, litre], rig.water, suit=rig.suit, wing=rig.wing)) - moment(rig)
    assert found == pytest.approx(1e-3 * levers().feet, abs=0.3)


def test_gas_in_the_lower_legs_is_little_behind_gaiters_and_much_in_loose_legs() -> None:
    loose = Case.read(demo_path("loose-legs"))
    told = levers_of(loose, loose.rig, flat_answer(soft_rig(loose.rig)))
    assert told.legs_gas > 2.0 * levers().legs_gas
    assert loose.rig.suit is not None
    assert told.legs_gas < float(loose.rig.suit.law.most.sum())


def test_facts_of_the_trade() -> None:
    """Common practice: gas in the feet turns head-down, in the shoulders head-up, the more so with straight legs; a
    kilogram on the ankles turns head-up; a rig worn higher turns head-down."""
    k = levers()
    assert k.feet_straight < k.feet < 0.0 < k.shoulders
    assert k.kilogram[TO_ANKLES] > 0.0
    assert k.raise_rig < 0.0


def test_a_rig_worn_higher_leaves_the_head_less_room() -> None:
    room = head_room_of(case())
    assert room is not None
    higher = room.missing(np.array([0.0, 0.05, 0.10]), np.zeros(3), np.zeros(3))
    assert (np.diff(higher) > 0.0).all()
    supple = room.missing(np.zeros(1), np.array([0.2]), np.array([0.2]))
    assert supple[0] <= higher[0]


def test_a_sight_says_what_was_otherwise() -> None:
    sight = sight_of("flat; still; pressure=60 bar; depth=5 m; gaiters=no")
    told = case().vary(settings_of(sight)).scenario("")
    assert told.water.depth == pytest.approx(5.0)
    assert told.cylinders is not None
    assert told.cylinders.pressure == pytest.approx(6e6)
    assert getattr(told.suit, "gaiters", None) is False


def test_numbers_spread_evenly_lie_one_in_each_part_of_every_column() -> None:
    even = evenly(64, 5, 1)
    assert (np.sort((64 * even).astype(int), axis=0) == np.arange(64)[:, None]).all()
    assert abs(np.corrcoef(even.T) - np.eye(5)).max() < 0.35


def test_moments_of_a_float_are_straight_in_its_unknowns() -> None:
    from meshes.solid import point_mass

    rig = rig_of([Part("float", "body", point_mass(100.0, np.zeros(3), 0.1))], Water(1000.0, 10.0, 2e5))
    base = numbers_of(rig)
    lines = np.zeros((3, len(base)))
    lines[:, VOLUME.start + 1] = 0.1 * np.array([6.0, -3.0, 1.0]) / 1000.0
    kinds: tuple[Shape, ...] = ("normal", "uniform", "normal")
    unknown = UncertainRig(rig, base, tuple(Variate(k, "", k, line) for k, line in zip(kinds, lines, strict=True)))
    found = moments_of([unknown])
    np.testing.assert_allclose(found.slopes[:, 0], [6.0, -3.0, 1.0], atol=1e-9)
    assert abs(found.rest).max() < 1e-9
    z = unknowns_from(unknown, evenly(8, 3, 2))
    exact = [moment(unknown.drawn(row)) for row in z]
    np.testing.assert_allclose(found.at(z, np.zeros(8))[0][:, 0], exact, atol=1e-9)
    assert found.rest.shape == (WORKED, 1)


@pytest.mark.parametrize(("told", "spread"), [({}, 0.02 / 1.645), ({"harness.drop": "1 cm +- 3 cm"}, 0.03)])
def test_how_high_the_rig_hangs_goes_with_the_unknown_drop(told, spread) -> None:
    """By 2 cm either way, 5 to 95 %, where nothing is told of it (assumed), else by the spread that is told."""
    seen = seen_diver(case().vary(told), [sight_of("flat; still")])
    assert sorted(np.abs(seen.moments.height))[-2:] == pytest.approx([0.0, spread], rel=1e-3)
    raised = np.zeros((1, len(seen.moments.height)))
    raised[0, np.abs(seen.moments.height).argmax()] = 1.0
    there, high = seen.moments.at(raised, np.zeros(1))
    usual, none = seen.moments.at(0.0 * raised, np.zeros(1))
    assert none[0] == 0.0
    assert np.sign(there - usual)[0, 0] == np.sign(high[0] * seen.levers.raise_rig)
