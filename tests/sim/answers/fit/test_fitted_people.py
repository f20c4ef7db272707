"""For whom a plate passes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.answer import fit_answer
from sim.answers.fit.dressed_person import Dress, drawn_person, dress_of, dressed_person
from sim.answers.fit.fitted_people import FittedPeople, fitted_batches, gathered, population, reasons
from sim.answers.fit.hung_rig import HungRig, hung_rig
from sim.answers.fit.plate_on_person import banded, outcome
from sim.assembly.assembled import Worn
from sim.case import Case
from sim.person.posed_body import posed_body
from sim.worker_pool import worker_pool

DROPS = (-0.03, 0.0, 0.03)
TENT = (0.0, 0.03, 0.0)  # margin of the waist strap between ribs and hip bones


@cache
def rigs() -> tuple[tuple[HungRig, ...], Dress]:
    file = demo_path("small-woman-steel")
    made = {name: Case.read(file, [f"plate={name} steel"]).assembled.worn for name in ("standard", "small")}
    first = made["standard"]
    assert first is not None
    return tuple(hung_rig(name, worn) for name, worn in made.items() if worn is not None), dress_of(first)


@cache
def people() -> FittedPeople:
    made, dress = rigs()
    return gathered(made, fitted_batches(made, dress, population(3)))


def found(**margins: tuple[float, float, float]) -> Mapping[str, np.ndarray]:
    usual = {"waist_strap": TENT, "shoulder_straps": (0.01,) * 3, "look-ahead": (0.1,) * 3, "reach": (0.02,) * 3}
    return {k.replace("_", " "): np.array(v) for k, v in (usual | margins).items()}


@pytest.mark.parametrize(
    ("margins", "reason"),
    [
        ({}, None),
        ({"reach": (-0.01, -0.02, -0.03)}, "reach"),
        ({"look-ahead": (-0.3, -0.2, -0.1)}, "look-ahead"),
        ({"shoulder_straps": (-0.01,) * 3}, "shoulder straps"),
        ({"reach": (-0.01,) * 3, "look-ahead": (-0.2,) * 3}, "several"),
        ({"reach": (0.01, -0.01, -0.03), "look-ahead": (-0.3, -0.1, 0.1)}, "never together"),
        ({"plate_width": (-0.01,) * 3}, "plate width"),
        ({"plate_top": (0.01, 0.02, 0.03), "plate_bottom": (-0.01,) * 3}, "plate length"),
        ({"cylinder_bottoms": (-0.03, -0.02, -0.01)}, "cylinder bottoms"),
        ({"cylinder_bottoms": (np.inf,) * 3, "plate_top": (0.1,) * 3, "plate_bottom": (0.1,) * 3}, None),
        ({"waist_strap": (-0.01, -0.01, -0.01)}, "waist strap"),
        ({"reach": (0.04, 0.01, -0.02), "look-ahead": (-0.1, 0.0, 0.1)}, None),
        ({"reach": (np.nan,) * 3}, "reach"),
    ],
)
def test_the_reason_is_the_demand_that_no_height_meets(
    margins: dict[str, tuple[float, float, float]], reason: str | None
) -> None:
    told = outcome(DROPS, found(**margins))
    assert told.reason == reason
    assert (told.band is None) == (reason is not None)
    if reason in ("several", "never together", "waist strap", None):
        assert (len(told.failing) > 1) == (reason in ("several", "waist strap"))
    else:
        assert told.failing == (reason,)


def test_the_band_is_where_all_demands_are_met() -> None:
    told = outcome(DROPS, found(reach=(0.05, 0.02, -0.01), **{"look-ahead": (-0.3, -0.1, 0.1)}))
    assert told.band is not None
    assert (told.band.least, told.band.greatest) == pytest.approx((0.015, 0.02))
    assert not told.as_worn


def test_two_processes_give_what_one_gives(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sim.answers.fit.fitted_people.BATCH", 1)
    made, dress = rigs()
    drawn = population(2)[1:]
    with worker_pool(2) as pool:
        shared = gathered(made, fitted_batches(made, dress, drawn, pool))
    alone = gathered(made, fitted_batches(made, dress, drawn))
    assert [p.plates for p in shared.people] == [p.plates for p in alone.people]
    assert [(p.who.sex, p.who.height) for p in shared.people] == [(d.sex, d.height) for d in drawn]


def test_the_small_plate_frees_everybodys_head_and_asks_longer_arms() -> None:
    """It hangs the same cylinders 5 cm lower from the waist."""
    for person in people().people:
        standard, small = person.plates
        assert small.look_ahead >= standard.look_ahead - 1e-9
        assert small.reach < standard.reach


def test_everybody_is_counted_once() -> None:
    all_of_them = people()
    assert all_of_them.unbuilt == 0
    for sex in ("female", "male"):
        group = all_of_them.of(sex)  # type: ignore[arg-type]
        assert len(group) == 3
        for plate in range(2):
            assert sum(reasons(group, plate).values()) == 3
            passing = [p for p in group if p.plates[plate].band is not None]
            assert len(passing) == reasons(group, plate)[None]
            assert all(p.plates[plate].reason is None for p in passing)


def test_bands_set_for_a_person_are_built_anew_and_pass() -> None:
    """Cylinders moved on the plate say what a rig built with them there says."""
    file = demo_path("small-woman-steel")
    person = ("diver.sex=male", "diver.height=180 cm", "diver.mass=80 kg", "diver.measures={}", "plate=small steel")
    low = worn_of(file, *person)
    who = dressed_person(low.body.person, dress_of(low))
    found = banded(hung_rig("plate", low), who)
    assert found.band is None
    assert found.reason == "reach"
    assert found.bands is not None
    assert found.bands > 0.0
    built = worn_of(file, *person, f"cylinders.shift={100.0 * (low.shift + found.bands):.6f} cm")
    assert banded(hung_rig("plate", built), who).band is not None


def test_what_eyes_and_hands_rule_out_together_no_bands_mend() -> None:
    low = worn_of(demo_path("small-woman-steel"), "fit.shoulder_bulk=45 deg")
    found = banded(hung_rig("plate", low), dressed_person(low.body.person, dress_of(low)))
    assert found.band is None
    assert found.bands is None


@pytest.mark.parametrize("plate", ["standard steel", "small steel"])
def test_whoever_passes_has_a_rig_that_passes_the_whole_fit(plate: str) -> None:
    """In the middle of the band, bands as found: nothing fails of all that fit says of one diver."""
    file = demo_path("small-woman-steel")
    first = worn_of(file, f"plate={plate}")
    rig, dress = hung_rig("plate", first), dress_of(first)
    checked = 0
    for who in population(12):
        body = posed_body(drawn_person(who), first.body.pose)
        told = banded(rig, dressed_person(body.person, dress))
        if told.band is None:
            continue
        drop = 0.5 * (told.band.least + told.band.greatest)
        case = Case.read(file, [f"plate={plate}", f"harness.drop={1000.0 * drop:.6f} mm"])
        built = case.assembled_on(replace(case.wearer, body=body))
        failing = {v.subject for v in fit_answer(built).verdicts if v.passes is False}
        assert not failing, (who.sex, who.height, who.mass)
        checked += 1
    assert checked >= 2


@pytest.mark.parametrize("drop", [-0.2, 0.3])
def test_nothing_hangs_on_how_low_the_file_has_the_rig(drop: float) -> None:
    """Gear is taken off its diver as if it hung from the waist."""
    file = demo_path("small-woman-steel")
    usual, other = worn_of(file), worn_of(file, f"harness.drop={100.0 * drop} cm")
    dress, rigs = dress_of(usual), [hung_rig("plate", worn) for worn in (usual, other)]
    for who in population(2):
        made = dressed_person(drawn_person(who), dress)
        one, two = (banded(rig, made) for rig in rigs)
        assert two.look_ahead == pytest.approx(one.look_ahead, abs=1e-6)
        assert two.reach == pytest.approx(one.reach, abs=1e-6)
        assert (two.reason, two.failing) == (one.reason, one.failing)


def worn_of(file: Path, *settings: str) -> Worn:
    worn = Case.read(file, settings).assembled.worn
    assert worn is not None
    return worn
