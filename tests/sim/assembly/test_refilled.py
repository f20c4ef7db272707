"""Cylinders filled otherwise, stages handed over: the rig laid out anew says the same."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.assembly.refilled import BACK, gas_sources, near_empty, refilled
from sim.case import Case

STAGES = {
    "gear.2.catalogue": "stage aluminium 11.1 l", "gear.2.name": "one", "gear.2.pressure": "150 bar",
    "gear.3.catalogue": "stage aluminium 5.7 l", "gear.3.name": "other", "gear.3.pressure": "30 bar",
}  # fmt: skip


@pytest.fixture(scope="module")
def case():
    return Case.read(demo_path("loose-legs")).vary(STAGES)


def test_the_sources_are_the_back_and_every_stage(case):
    found = gas_sources(case.scenario(""))
    assert [(s.name, s.parts, s.pressure) for s in found] == [
        (BACK, (0, 1), 200e5), ("one", (2,), 150e5), ("other", (3,), pytest.approx(30e5)),
    ]  # fmt: skip
    held = [p.solid.mass for p in case.rig.parts if p.kind == "breathing gas"]
    for source in found:
        assert source.mass(source.pressure) == pytest.approx(sum(held[k] for k in source.parts), rel=1e-12)


def test_filled_otherwise_as_laid_out_anew(case):
    sources = gas_sources(case.scenario(""))
    rig = refilled(case.rig, near_empty(sources, 50e5))
    anew = case.vary({"cylinders.pressure": "50 bar", "gear.2.pressure": "50 bar"}).rig  # the other holds less
    assert [(p.name, p.solid.mass) for p in rig.parts] == [(p.name, pytest.approx(p.solid.mass)) for p in anew.parts]
    assert np.allclose(rig.held, anew.held, atol=1e-12)
    assert np.allclose(rig.whole.inertia, anew.whole.inertia)


def test_handed_over_as_never_worn(case):
    sources = gas_sources(case.scenario(""))
    rig = refilled(case.rig, {}, [sources[1]])
    without = {p.name for p in case.rig.parts} - {p.name for p in rig.parts}
    assert without == {"one", "air in one", "valve and rigging of one"}
    anew = Case.read(demo_path("loose-legs")).vary({k.replace("3", "2"): v for k, v in STAGES.items() if "3" in k})
    assert rig.whole.mass == pytest.approx(anew.rig.whole.mass, abs=1e-9)
    assert np.allclose(rig.whole.cm, anew.rig.whole.cm, atol=1e-9)


def test_of_cylinders_called_alike_each_has_a_name_of_its_own(case):
    """By a number that no other is told with."""
    told = case.vary(
        {"gear.2.name": "x", "gear.3.name": "x", "gear.4": "stage aluminium 5.7 l", "gear.4.name": "x 2"}
    )
    assert [s.name for s in gas_sources(told.scenario(""))] == [BACK, "x", "x 3", "x 2"]
