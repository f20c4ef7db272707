"""A plate with places of another thickness and things fixed to it, as the bench tells it."""

from pathlib import Path

import pytest

from scenarios.errors import ScenarioError
from sim.answers.plate.answer import plate_answer
from sim.answers.plate.bench import bench_plate

WEIGHT = 'plate.added=[{name="weight", mass="1 kg", size=["80 mm", "50 mm", "25 mm"], from_top="290 mm"}]'
ZONE = 'plate.zones=[{thickness="6 mm", top="40 mm", bottom="90 mm", outer="25 mm"}]'


def test_plate_and_load_are_told_apart_and_together() -> None:
    bare, loaded = (plate_answer(bench_plate("standard steel", s)) for s in ((), (WEIGHT,)))
    assert (bare.loaded, bare.fixed) == (None, ())
    assert loaded.mass == bare.mass
    assert loaded.loaded is not None
    (weight,) = loaded.fixed
    assert weight.balance.cm_down == pytest.approx(0.290, abs=1e-9)
    # on the channel's floor, whose back face lies 59 mm behind the flats' front faces
    assert weight.balance.cm_behind == pytest.approx(0.059 + 0.0125, abs=1e-9)
    assert weight.balance.weight_in_water == pytest.approx(1.0 - loaded.water_density * 1e-4, rel=1e-9)
    assert loaded.loaded.mass == pytest.approx(bare.mass + 1.0, rel=1e-12)
    both = (bare.mass * bare.cm_down + 0.290) / (bare.mass + 1.0)
    assert loaded.loaded.cm_down == pytest.approx(both, abs=1e-9)


def test_a_zone_weighs_its_area_times_what_it_is_thicker() -> None:
    """On the channel's level floor, so that bending changes nothing."""
    bare, thick = (plate_answer(bench_plate("standard steel", s)) for s in ((), (ZONE,)))
    (zone,) = thick.zones
    assert zone.area == pytest.approx(0.05 * 0.05 - 7.07e-5, rel=1e-3)  # less the bolt's hole, 9.5 mm wide
    assert thick.mass - bare.mass == pytest.approx(8000.0 * zone.area * 0.003, rel=1e-6)
    assert thick.depth - bare.depth == pytest.approx(0.003, abs=1e-9)


def test_a_weighed_plate_is_weighed_without_what_is_fixed_to_it() -> None:
    answer = plate_answer(bench_plate("standard steel", [WEIGHT, 'plate.mass="2.5 kg"']))
    assert answer.mass == pytest.approx(2.5, rel=1e-12)
    assert answer.loaded is not None
    assert answer.loaded.mass == pytest.approx(3.5, rel=1e-12)


def test_a_place_beside_the_plate_is_refused_with_file_and_line(tmp_path: Path) -> None:
    file = tmp_path / "p.toml"
    file.write_text(
        f'[plate]\ncatalogue = "small steel"\n{WEIGHT.removeprefix("plate.").replace("290", "400")}\n',
        encoding="utf-8",
    )
    with pytest.raises(ScenarioError, match=r"p.toml:1: plate: what is fixed 400.0 mm from .* beside"):
        bench_plate(file)
