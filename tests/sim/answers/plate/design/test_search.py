"""The search for a plate: against brute force where a plate is quick to work out, and its file read back."""

from itertools import product

import numpy as np
import pytest

from meshes.mesh import Floats
from scenarios.errors import ScenarioError
from sim.answers.fit.demands.every import DEMANDS
from sim.answers.plate import dimensions
from sim.answers.plate.bench import bench_plate
from sim.answers.plate.design.answer import design_told, plate_text_of
from sim.answers.plate.design.brief import Brief, group_brief
from sim.answers.plate.design.search import Searched, chosen_of, searched
from sim.answers.plate.design.trial import Built, Trial, built, keeps_limits, trials
from sim.answers.plate.dimensions import Dimensions
from sim.answers.plate.export import export_plate
from sim.answers.plate.laid import wearing
from sim.person.population import many_drawn

TWO = (dimensions.LENGTH, dimensions.BOLTS_DOWN)
PEOPLE = np.concatenate([np.linspace(0.33, 0.36, 4), np.linspace(0.385, 0.40, 9)])  # m, invented: see ``quick``


def quick(plates: list[Built], _: int) -> list[Trial]:
    """Real plates on an invented group: each wants a length to 1.5 cm; bolts and length turn the diver."""

    def margins(length: float) -> Floats:
        of_each = 0.015 - np.abs(PEOPLE - length)
        return np.concatenate([np.repeat(of_each[:, None], 3 * len(DEMANDS), axis=1), -np.ones((len(PEOPLE), 1))], 1)

    found = []
    for one in plates:
        length, bolts = (one.values[name] for name in TWO)
        turn = 40.0 * (bolts - 0.215) + 300.0 * (length - 0.39) ** 2 - 1.0
        found.append(Trial(one, (turn, 0.8 * turn), DEMANDS, margins(length)))
    return found


@pytest.fixture(scope="module")
def brief():
    return Brief(Dimensions(bench_plate("standard aluminium")), TWO, (), "an invented group", most_mass=0.93)


@pytest.fixture(scope="module")
def by_hand(brief):
    """Every plate of a grid that keeps the limits."""
    start = built(brief, {name: brief.dimensions.now[name] for name in TWO})
    low, high = brief.ends
    grid = (np.linspace(a, b, n) for a, b, n in zip(low, high, (7, 5), strict=True))
    plates = [built(brief, brief.values(brief.places(dict(zip(TWO, v, strict=True))))) for v in product(*grid)]
    return quick([p for p in plates if p is not None and keeps_limits(brief, p, start)], 0)


@pytest.fixture(scope="module")
def found(brief):
    return searched(brief, None, quick, first=8, rounds=2)  # type: ignore[arg-type]


def test_what_is_chosen_is_no_worse_than_the_best_of_a_grid(found, by_hand):
    best = chosen_of(by_hand)
    assert best is not None
    assert found.chosen is not None
    assert found.chosen.share >= best.share
    if found.chosen.share == best.share:
        assert found.chosen.moment <= best.moment + 0.1  # N m: what a step of half a millimetre is worth, five times


def test_no_plate_of_the_grid_beats_what_can_be_had(found, by_hand):
    span = np.ptp([t.objectives for t in by_hand], axis=0)
    assert (span > 0.0).all()
    for one in by_hand:
        ahead = min(float(np.max((t.objectives - one.objectives) / span)) for t in found.front)
        assert ahead <= 1.0 / 3.0  # of each one's span: the mixes whose best are looked for lie so far apart


def test_limits_are_kept_and_nothing_in_the_front_is_beaten(brief, found):
    start = found.start.built
    assert all(keeps_limits(brief, t.built, start) for t in found.front)
    assert all(t.built.mass <= 0.93 + 1e-6 for t in found.front)
    told = [t.objectives for t in found.front]
    assert not any((a <= b).all() and (a < b).any() for a, b in product(told, told))


def test_a_limit_on_stress_is_kept_and_no_plate_is_worked_out_twice(brief):
    asked = []

    def stress(plate):  # one that grows with the length stands for one that is worked out
        asked.append(plate.table.model_dump_json())
        return 1e8 * plate.table.length

    limited = Brief(brief.dimensions, TWO, (), "an invented group", stress=stress, most_stress=3.8e7)
    found = searched(limited, None, quick, first=4, rounds=1)  # type: ignore[arg-type]
    assert all(t.built.values[dimensions.LENGTH] <= 0.38 for t in found.front)
    assert found.front
    assert len(asked) == len(set(asked))


def test_the_plate_chosen_scores_from_its_file_what_was_promised(brief, found, tmp_path):
    assert found.chosen is not None
    file, drawing = tmp_path / "chosen.toml", tmp_path / "chosen.dxf"
    bench = found.chosen.built.bench
    file.write_text(plate_text_of(bench, "chosen"), encoding="utf-8")
    export_plate(bench, drawing, ".dxf")
    opened = bench_plate(file)
    drawn = bench_plate(drawing, ["plate.material=aluminium", "plate.thickness=3.2 mm", "plate.density=2700 kg/m^3"])
    real = Brief(brief.dimensions, TWO, (many_drawn("female", 1).person(0),), "one woman")
    same = [Built(b, found.chosen.built.values, {}) for b in (bench, opened, drawn)]
    promised, again, flat = trials(real, wearing(bench_plate("standard aluminium")), same)
    assert again.objectives == pytest.approx(promised.objectives, abs=1e-9)
    assert again.targets == pytest.approx(promised.targets, abs=1e-9)
    # a drawing's arcs are read as chords: a thousandth of the mass, tenths of a millimetre
    assert flat.built.mass == pytest.approx(promised.built.mass, rel=1e-3)
    assert flat.moments == pytest.approx(promised.moments, abs=0.02)
    assert flat.targets == pytest.approx(promised.targets, abs=1e-3)


def test_a_drawing_that_was_chosen_reads_back_from_its_own_drawing(tmp_path):
    source = tmp_path / "mine.dxf"
    export_plate(bench_plate("standard aluminium"), source, ".dxf")
    keys = ["plate.material=aluminium", "plate.thickness=3.2 mm", "plate.density=2700 kg/m^3"]
    asked = group_brief(bench_plate(source, keys), ("length", "bolt-row"), "women", 1)
    assert asked.names == TWO
    sizes = {dimensions.LENGTH: 0.385, dimensions.BOLTS_DOWN: asked.dimensions.now[dimensions.BOLTS_DOWN] - 0.004}
    plates = [built(asked, values) for values in ({name: asked.dimensions.now[name] for name in TWO}, sizes)]
    start, best = quick([one for one in plates if one is not None], 0)
    found = Searched(start, (start, best), (best,), best, np.zeros(3))
    chosen = best.built
    file, drawing = tmp_path / "chosen" / "best.toml", tmp_path / "chosen" / "best.dxf"
    drawing.parent.mkdir()
    told = design_told(asked, found, "nothing", file.parent, drawing)
    assert 'file = "plate.dxf"' in str(design_told(asked, found, "nothing").file_text)
    file.write_text(told.file_text, encoding="utf-8")
    drawing.write_text(told.drawing_text, encoding="utf-8")
    opened, alone = bench_plate(file), bench_plate(drawing, keys)
    # its bends, too, stand in the drawing itself
    for one in (opened, alone):
        assert one.plate.solid.mass == pytest.approx(chosen.mass, rel=1e-9)
        assert one.plate.solid.cm == pytest.approx(chosen.bench.plate.solid.cm, abs=1e-7)
    values = Dimensions(opened).now
    assert {n: values[n] for n in TWO} == pytest.approx(chosen.values, abs=1e-6)  # a drawing's digits
    same = [Built(b, chosen.values, {}, np.nan) for b in (chosen.bench, opened)]
    promised, again = trials(asked, wearing(bench_plate("standard aluminium")), same)
    assert again.objectives == pytest.approx(promised.objectives, abs=1e-9)
    assert again.targets == pytest.approx(promised.targets, abs=1e-9)


def test_a_solid_is_asked_for_its_flat_pattern_and_a_drawing_for_what_it_has(tmp_path):
    solid, flat = tmp_path / "mine.stl", tmp_path / "mine.dxf"
    for file in (solid, flat):
        export_plate(bench_plate("standard aluminium"), file, file.suffix)
    with pytest.raises(ScenarioError, match="flat pattern"):
        group_brief(bench_plate(solid, ["plate.material=aluminium", "plate.unit=mm"]), ("length",), "women", 1)
    drawn = bench_plate(flat, ["plate.material=aluminium", "plate.thickness=3.2 mm"])
    assert group_brief(drawn, ("bend-2-place",), "women", 1).names == ("bend 2, from the middle line",)
    with pytest.raises(ScenarioError, match="bend-2-place"):
        group_brief(drawn, ("channel-depth",), "women", 1)
