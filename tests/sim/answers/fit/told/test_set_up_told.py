"""What is said of how to wear a plate."""

from __future__ import annotations

import json
from functools import cache
from math import isfinite

import pytest

from scenarios.demos import demo_path
from sim.answers.fit.report import FitReport, fit_report
from sim.answers.fit.told.set_up import SetUpFit
from sim.answers.fit.told.text import fit_text
from sim.case import Case
from sim.telling.record import as_json


@cache
def told(demo: str, *settings: str) -> FitReport:
    return fit_report(Case.read(demo_path(demo), settings))


def set_up(demo: str, *settings: str) -> SetUpFit:
    found = told(demo, *settings).plates[0].set_up
    assert found is not None
    return found


BAND = ("diver.measures={}", "diver.height=171 cm", "cylinders.shift=0 cm")


def test_a_change_is_told_with_what_it_does_to_the_moment() -> None:
    found = set_up("small-woman-steel", *BAND)
    nearest, worn = found.nearest, found.as_worn
    assert nearest is not None
    assert (worn.set_up.drop, worn.set_up.shift) == (0.0, 0.0)
    assert nearest.set_up.drop > 0.0 > nearest.set_up.shift
    lower, higher = 100.0 * nearest.set_up.drop, -100.0 * nearest.set_up.shift
    strap = 100.0 * nearest.shoulder_strap
    assert found.told.startswith(
        f"with the rig {lower:.1f} cm lower (shoulder straps of {strap:.1f} cm) and the bands {higher:.1f} cm higher "
        "on the cylinders, waist strap, look-ahead, valve reach, plate top and cylinder bottoms pass"
    )
    assert f"{abs(nearest.flat_moment):.0f} N m head-down turn the diver" in found.told
    assert f"{abs(worn.flat_moment):.0f} N m head-down as worn" in found.told
    assert abs(nearest.flat_moment) < abs(worn.flat_moment)  # cylinders lower: less head-down


def test_the_strap_it_tells_hangs_the_rig_where_it_says() -> None:
    nearest = set_up("small-woman-steel", *BAND).nearest
    assert nearest is not None
    strap = f"harness.shoulder_strap={100.0 * nearest.shoulder_strap:.4f} cm"
    worn = set_up("small-woman-steel", *BAND, strap).as_worn
    assert worn.set_up.drop == pytest.approx(nearest.set_up.drop, abs=1e-4)


def test_without_cylinders_the_height_alone_is_changed() -> None:
    found = set_up("tall-man-steel", "cylinders=none", "harness.drop=-3 cm")
    assert found.as_worn.set_up.drop == pytest.approx(-0.03)
    assert found.nearest is not None
    assert abs(found.nearest.set_up.drop) <= 0.01
    assert "bands" not in found.told


def test_what_fails_even_so_is_told() -> None:
    found = set_up("small-woman-steel", *BAND, "plate.width=32 cm")
    assert found.nearest is not None
    assert found.nearest.still_fails == ("plate width",)
    assert "(plate width still fails)" in found.told


def test_what_no_set_up_mends_is_told() -> None:
    found = set_up("small-woman-steel", "diver.measures={}", "diver.height=156 cm", "diver.mass=52 kg")
    assert found.nearest is None
    assert found.barred_by == ("look-ahead",)
    assert "from 2.5 cm to 10.0 cm below the cylinders' shoulders, will do: look-ahead fails" in found.told


def test_without_a_harness_there_is_nothing_to_adjust() -> None:
    report = told("small-woman-steel", "harness=none")
    assert report.plates[0].set_up is None
    assert "How to wear it" not in fit_text(report)


def test_json_holds_no_infinity() -> None:
    """Cylinders that end above the buttocks have no margin to them; without any nothing is asked of them."""
    high = ("cylinders=twin aluminium 5.7 l 207 bar", "cylinders.shift=30 cm", "harness.drop=-15 cm")
    bare = ("cylinders=none",)
    for settings in (high, bare):
        json.dumps(as_json(told("tall-man-steel", *settings)), allow_nan=False)
    assert not isfinite(set_up("tall-man-steel", *high).as_worn.set_up.margins["cylinder bottoms"])
    assert "cylinder bottoms" not in set_up("tall-man-steel", *bare).as_worn.set_up.margins
    assert "bands" not in set_up("tall-man-steel", *bare, "plate.length=46 cm").told
