"""A plate on divers, split into mass, places and fit."""

from dataclasses import astuple, fields

import pytest

from sim.answers.plate.bench import bench_plate
from sim.answers.plate.divers.answer import divers_told, reference_divers
from sim.answers.plate.divers.worn import WornAnswers

SMALL = """
[plate]
catalogue = "small steel"
"""


def numbers(answers: WornAnswers) -> list[float]:
    return [v for v in astuple(answers) if v is not None]


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    file = tmp_path_factory.mktemp("plates") / "mine.toml"
    file.write_text(SMALL, encoding="utf-8")
    bench = bench_plate(file)
    return divers_told(bench, reference_divers(bench)[:1]).divers[0]


def test_a_plate_of_the_catalogue_under_another_name_differs_from_itself_by_nothing(told):
    own = next(b for b in told.beside if b.plate == "small steel")
    assert numbers(own.by_mass) == pytest.approx([0.0] * len(numbers(own.by_mass)), abs=1e-9)
    assert numbers(own.by_place) == pytest.approx([0.0] * len(numbers(own.by_place)), abs=1e-9)


def test_mass_place_and_fit_add_up(told):
    other = next(b for b in told.beside if b.plate == "standard steel")
    for field in fields(WornAnswers):
        parts = [getattr(a, field.name) for a in (other.worn, other.by_mass, other.by_place)]
        assert sum(parts) == pytest.approx(getattr(told.worn, field.name), abs=1e-9), field.name


def test_mass_alone_moves_the_lead_by_what_it_weighs_in_water(told):
    other = next(b for b in told.beside if b.plate == "standard steel")
    # the plate's weight in water is taken off the lead, whose own is less by what lead displaces: 1 - 1027 / 11340
    lighter = -other.by_mass.carried * (1.0 - 1027.0 / 8000.0)
    assert other.by_mass.lead == pytest.approx(
        lighter / (1.0 - 1027.0 / 11340.0), rel=0.03
    )  # suit gas moves a little
