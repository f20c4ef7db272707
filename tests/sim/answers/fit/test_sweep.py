"""The trade-off over the drop: monotone, continuous, the same as the answers for one rig."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest

import scenarios
from meshes.mesh import Floats
from sim.answers.fit.answer import fit_answer
from sim.answers.fit.sweep import AlsoFails, PlateSweep, SweepPoint, fit_sweep, plate_sweep, ruled_out_by
from sim.answers.fit.sweep_kinds import asked
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

WOMAN = Path(scenarios.__file__).parent / "demos" / "small-woman-steel.toml"
SETTINGS = ("cylinders.shift=0 cm",)  # the demo hangs them low


def column(plate: PlateSweep, name: str) -> Floats:
    return np.array([getattr(p, name) for p in plate.points], dtype=float)


@pytest.fixture(scope="module")
def drops():
    return fit_sweep(
        Case.read(WOMAN, SETTINGS), asked("drop; from=-3 cm; to=11 cm; steps=8"), ("standard steel", "small steel")
    )


def test_a_lower_rig_sees_more_and_reaches_less_and_its_strap_is_lower(drops):
    for plate in drops.plates:
        assert (np.diff(column(plate, "ahead")) >= -1e-9).all()
        assert np.ptp(column(plate, "ahead")) > 0.1
        # the reach is found to 3 mm
        assert (np.diff(column(plate, "reach")) <= 0.003).all()
        assert column(plate, "reach")[0] - column(plate, "reach")[-1] > 0.05
        # the slots follow the drop but for the plate's tilt, at most 20 degrees, 15 cm from its middle
        fallen = column(plate, "strap")[0] - column(plate, "strap")
        assert fallen == pytest.approx(plate.values - plate.values[0], abs=0.15 * (1.0 - np.cos(np.radians(20.0))))


def test_a_lower_rig_turns_the_diver_less_head_down(drops):
    """The rig is heavy in water: weight moved to the feet turns head-up, by its weight times the way."""
    for plate in drops.plates:
        assert (np.diff(column(plate, "moment")) > 0.0).all()


def test_the_small_plate_sees_further_at_the_same_strap(drops):
    standard, small = drops.plates
    assert (column(small, "ahead") >= column(standard, "ahead") - 1e-9).all()
    assert (column(small, "reach") < column(standard, "reach")).all()
    assert column(small, "strap") == pytest.approx(column(standard, "strap"), abs=0.01)


def test_the_trade_s_fact_no_drop_will_do_with_the_standard_plate_but_with_the_small_one(drops):
    standard, small = drops.plates
    assert standard.bands == ()
    assert set(standard.barred_by) == {"waist strap", "look-ahead"}
    assert len(small.bands) == 1


def test_every_point_is_what_the_file_gives_at_that_drop(drops):
    plate, k = drops.plates[0], 3
    value = float(plate.values[k])
    settings = (*SETTINGS, "plate=standard steel", f"harness.drop={100.0 * value:.9g} cm")
    assembled = Case.read(WOMAN, settings).assembled
    answer, point = fit_answer(assembled), plate.points[k]
    assert point.moment == pytest.approx(flat_answer(soft_rig(assembled.rig)).pitch_moment, abs=1e-9)
    assert point.ahead == pytest.approx(answer.look_ahead.ahead, abs=1e-12)
    assert point.reach == pytest.approx(min(h.margin for h in answer.reach), abs=1e-12)
    passes = {v.subject: v.passes for v in answer.verdicts}
    assert (point.margins["waist strap"] >= 0.0) == passes["waist strap"]
    assert (point.margins["look-ahead"] >= 0.0) == passes["look-ahead"]
    valves = [passes[h.valve] for h in answer.reach]
    assert (point.margins["reach"] >= 0.0) == all(valves)


def test_half_the_step_changes_nothing_much(drops):
    """Continuous: between neighbours every curve runs near their straight line."""
    fine = fit_sweep(
        Case.read(WOMAN, SETTINGS), asked("drop; from=1 cm; to=3 cm; steps=5"), ("standard steel",)
    ).plates[0]
    for name, room in (("moment", 0.15), ("ahead", np.radians(1.5)), ("reach", 0.004), ("strap", 0.001)):
        y = column(fine, name)
        assert np.abs(y[1:-1] - 0.5 * (y[:-2] + y[2:])).max() < room, name


def test_a_rig_with_a_stiff_shoulder_is_judged_by_the_hand_that_is_worse():
    stiff = (*SETTINGS, "fit.stiff_left_shoulder=25 deg")
    plates = [
        fit_sweep(Case.read(WOMAN, s), asked("drop; from=0 cm; to=2 cm; steps=2")).plates[0]
        for s in (SETTINGS, stiff)
    ]
    assert (column(plates[1], "reach") < column(plates[0], "reach") - 0.01).all()
    assert {p.valve for p in plates[1].points} == {"left valve"}


def invented(margins: dict[str, float]) -> SweepPoint:
    return SweepPoint(0.0, 0.0, 0.0, 0.0, "valve", 0.0, 0.0, MappingProxyType(margins), ())


def test_the_demands_that_rule_each_other_out_are_the_fewest():
    x = np.array([0.0, 1.0, 2.0])
    low, high, middle = np.array([1.0, 0.0, -1.0]), np.array([-2.0, -0.5, 1.0]), np.array([1.0, 1.0, 1.0])
    assert ruled_out_by(x, {"a": middle, "b": low, "c": high}) == ("b", "c")
    assert ruled_out_by(x, {"a": middle, "b": low, "c": -middle}) == ("c",)
    assert ruled_out_by(x, {"a": middle, "b": low}) == ()
    points = [invented({"b": float(a), "c": float(b)}) for a, b in zip(low, high, strict=True)]
    assert plate_sweep("drop", "p", x.tolist(), points).barred_by == ("b", "c")
    assert (
        plate_sweep("drop", "p", x.tolist(), [replace(p, margins={"b": 1.0}) for p in points]).bands[0].greatest
        == 2.0
    )


def test_what_else_fails_is_told_where_all_demands_are_met():
    point = invented({"b": 1.0})
    fails = [("a",), ("a", "c"), ("a",), ()]
    points = [
        replace(point, margins={"b": m}, also_fails=f) for m, f in zip([1.0, 1.0, 1.0, -1.0], fails, strict=True)
    ]
    assert plate_sweep("drop", "p", [0.0, 1.0, 2.0, 3.0], points).also_fails == (
        AlsoFails("a", True),
        AlsoFails("c", False),
    )
    narrow = [replace(p, margins={"b": m, "d": 0.2 - m}) for p, m in zip(points, [-1.0, 1.0], strict=False)]
    swept = plate_sweep("drop", "p", [0.0, 1.0], narrow)
    assert [(round(b.least, 3), round(b.greatest, 3)) for b in swept.bands] == [(0.5, 0.6)]
    assert swept.also_fails == (AlsoFails("a", True), AlsoFails("c", True))  # no value inside: the nearest is 1


def test_without_cylinders_nothing_has_to_be_reached():
    bare = fit_sweep(
        Case.read(WOMAN, ("cylinders=none", "wing=none")), asked("drop; from=0 cm; to=2 cm; steps=2")
    ).plates[0]
    assert "reach" not in bare.points[0].margins
    assert np.isnan(column(bare, "reach")).all()
