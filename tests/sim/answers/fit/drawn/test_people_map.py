"""The map of people: shares stacked to a whole, the same bytes for the same people."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from sim.answers.fit.drawn.people_map import LOOKS, draw_people_map
from sim.answers.fit.drops import DropBand
from sim.answers.fit.fitted_people import FittedPeople, PersonFit
from sim.answers.fit.plate_on_person import PlateOnPerson
from sim.answers.fit.told.people import WORDS
from sim.person.measures import Sex
from sim.person.population import Drawn

REASONS: tuple[str | None, ...] = (None, *WORDS)
MOVED = 0.025  # m, of the cylinders


def invented(number: int, plates: int) -> FittedPeople:
    """People of made-up heights, each outcome in turn."""
    random = np.random.default_rng(3)
    sexes: tuple[Sex, ...] = ("female", "male")

    def on(i: int) -> PlateOnPerson:
        reason = REASONS[i % len(REASONS)]
        bands = 0.0 if reason is None else MOVED if i % 4 == 0 and reason == "reach" else None
        return PlateOnPerson(DropBand(0.0, 0.01) if reason is None else None, reason, (), bands, False, 0.0, 0.0, 0.0)

    group = tuple(
        PersonFit(Drawn(sex, float(random.normal(mean, 0.06)), 70.0, {}), tuple(on(i + k) for k in range(plates)))
        for sex, mean in zip(sexes, (1.63, 1.76), strict=True)
        for i in range(number)
    )
    return FittedPeople(tuple(f"plate {k}" for k in range(plates)), group, 0)


def test_every_outcome_has_its_own_look() -> None:
    looks = LOOKS.values()
    assert set(LOOKS) == {*REASONS, "bands"}
    assert len({(look.colour, look.hatch) for look in looks}) == len(looks)
    assert len({look.hatch for look in looks}) == len(looks)  # told apart without colour


def test_the_column_is_stacked_as_ever() -> None:
    """From those who pass at its foot; what is seldom stands at its top."""
    assert list(LOOKS) == [
        None, "bands", "never together", "look-ahead", "reach", "cylinder bottoms", "plate width", "plate length",
        "shoulder straps", "several", "waist strap",
    ]  # fmt: skip


@pytest.mark.parametrize("plates", [1, 3])
def test_the_same_people_draw_the_same_sheet(tmp_path: Path, plates: int) -> None:
    for name in ("a.png", "b.png"):
        draw_people_map(invented(40, plates), "All as invented", tmp_path / name)
    assert (tmp_path / "a.png").read_bytes() == (tmp_path / "b.png").read_bytes()


def test_a_single_person_of_each_sex_is_drawn(tmp_path: Path) -> None:
    draw_people_map(invented(1, 1), "All as invented", tmp_path / "few.svg")
    text = (tmp_path / "few.svg").read_text(encoding="utf-8")
    assert text.lstrip().startswith("<?xml")
