"""Tables of a study against sums that can be done by hand, and the figures made of them."""

import json
import re
from dataclasses import dataclass, replace
from importlib import metadata

import numpy as np
import polars as pl
import pytest

from sim.answers.study.answer import study_report
from sim.answers.study.effects import by_level, effects, problems, summary
from sim.answers.study.folder import FolderError, opened
from sim.answers.study.indices import indices, runs_of
from sim.answers.study.job import Answers
from sim.answers.study.outputs import Output
from sim.answers.study.plan import Rows
from sim.answers.study.report import write_report
from sim.answers.study.results import results
from sim.answers.study.run import run
from sim.answers.study.shares import shares
from sim.answers.study.text import report_text
from sim.telling.caution import CAUTION
from sim.telling.record import as_json

from .conftest import Sum, choices, job_of, number
from .test_run import threads


@dataclass(frozen=True)
class Linear:
    """total = 3 x + 4 c + 5 y, whichever of the three there are; ``lost`` rows of every hundred have no answer."""

    lost: int = 0

    def __call__(self, rows):
        n = len(rows)
        total = sum(
            (f * np.nan_to_num(rows.values[k]) for k, f in (("x", 3.0), ("c", 4.0), ("y", 5.0)) if k in rows.values),
            np.zeros(n),
        )
        bad = (rows.start + np.arange(n)) % 100 < self.lost
        return Answers({"total": np.where(bad, np.nan, total)}, ["lost" if b else "" for b in bad])


def ran(job, folder, rows=1000):
    with opened(folder, job), threads() as crew:
        run(job, folder, crew, rows)
    return results(folder)


def into(folder):
    """Where to write files of these names."""
    folder.mkdir()
    return lambda names: [folder / name for name in names]


X, C, Y = number("x", "values", 0.0, 1.0, 2.0), choices("c", "none", "one", "two"), number("y", "normal", 0.0, 1.0)


def test_effects_in_a_grid_are_those_of_one_input_alone(tmp_path):
    """From its first level to each other: 3 and 6 for x, 4 and 8 for c, at each level of the other and each draw."""
    found = effects(ran(job_of(Linear(), "grid", (X, C, Y), 16), tmp_path))
    rows = {r.input: r for r in found}
    assert set(rows) == {"x", "c"}  # y has no levels to go from
    assert (rows["x"].pairs, rows["x"].mean) == (96, pytest.approx(4.5))
    assert rows["x"].greatest == pytest.approx(6.0)
    assert (rows["c"].pairs, rows["c"].mean) == (96, pytest.approx(6.0))
    assert rows["c"].greatest == pytest.approx(8.0)


def test_effects_one_at_a_time_are_from_the_scenario_as_it_is(tmp_path):
    found = effects(ran(job_of(Linear(), "one at a time", (X, C, Y)), tmp_path))
    rows = {r.input: r for r in found}
    assert rows["x"].mean == pytest.approx((0.0 + 3.0 + 6.0) / 3.0)
    assert rows["c"].greatest == pytest.approx(8.0)
    # the 95th percentile, of a spread that is cut off where one case in a million is left
    assert rows["y"].greatest == pytest.approx(5.0 * 1.6448536269514722, rel=1e-5)


def test_effects_of_a_saltelli_study_are_between_two_draws(tmp_path):
    """The mean of |u - v| for two normal numbers is 2/sqrt(pi), for two even ones 1/3."""
    inputs = (number("x", "uniform", 0.0, 1.0), number("y", "normal", 0.0, 1.0))
    found = effects(ran(job_of(Linear(), "saltelli", inputs, 4096), tmp_path, 5000))
    rows = {r.input: r for r in found}
    assert rows["x"].mean == pytest.approx(3.0 / 3.0, rel=0.02)  # 2 SD of 4096 random pairs; these are more even
    assert rows["y"].mean == pytest.approx(5.0 * 2.0 / np.sqrt(np.pi), rel=0.025)


def test_shares_of_a_full_grid_are_exact(tmp_path):
    found = shares(ran(job_of(Linear(), "grid", (X, C)), tmp_path))
    of = {s.input: s.share for s in found}
    assert of["x"] == pytest.approx(9.0 / 25.0, rel=1e-12)  # variances 9 and 16 times that of 0, 1, 2
    assert of["c"] == pytest.approx(16.0 / 25.0, rel=1e-12)


@pytest.mark.parametrize("kind", ["sobol", "latin hypercube"])
def test_shares_of_drawn_inputs(kind, tmp_path):
    inputs = (number("x", "normal", 0.0, 1.0), number("y", "normal", 0.0, 1.0), number("z", "normal", 0.0, 1.0))
    found = shares(ran(job_of(Linear(), kind, inputs, 4096), tmp_path, 2000))
    of = {s.input: s.share for s in found}
    # ten groups see 0.958 of a normal number's variance; that of 34 is 9 and 25
    assert of["x"] == pytest.approx(0.96 * 9.0 / 34.0, abs=0.02)
    assert of["y"] == pytest.approx(0.96 * 25.0 / 34.0, abs=0.02)
    assert of["z"] == pytest.approx(0.0, abs=0.005)


def test_indices_of_a_sum_are_shares_of_its_variance(tmp_path):
    inputs = (number("x", "normal", 0.0, 1.0), number("y", "normal", 0.0, 1.0), number("z", "normal", 0.0, 1.0))
    found = indices(ran(job_of(Linear(), "saltelli", inputs, 4096), tmp_path, 5000))
    exact = np.array([9.0, 25.0, 0.0]) / 34.0
    for order in ("first", "total"):
        low, middle, high = (np.array([getattr(i, order + end) for i in found]) for end in ("_low", "", "_high"))
        assert (np.abs(middle - exact) <= 2.0 * (high - low) / (2 * 1.96) + 1e-9).all()


def test_indices_are_those_of_an_independent_program(tmp_path):
    """scipy.stats.sobol_indices has the same estimators."""
    from scipy.stats import sobol_indices

    inputs = (number("x", "normal", 0.0, 1.0), number("y", "uniform", 0.0, 1.0))
    done = ran(job_of(Linear(), "saltelli", inputs, 256), tmp_path)
    runs = runs_of(done, "total")
    theirs = sobol_indices(
        func={"f_A": runs.a[None], "f_B": runs.b[None], "f_AB": runs.mixed[:, None]}, n=len(runs.a)
    )
    ours = indices(done, resamples=2)
    np.testing.assert_allclose([i.first for i in ours], theirs.first_order, rtol=1e-12)
    np.testing.assert_allclose([i.total for i in ours], theirs.total_order, rtol=1e-12)


def test_lost_rows_are_stood_in_for_up_to_a_tenth_of_the_draws(tmp_path):
    inputs = (number("x", "normal", 0.0, 1.0), number("y", "normal", 0.0, 1.0))
    few = ran(job_of(Linear(lost=2), "saltelli", inputs, 1024), tmp_path / "few", 4096)
    found = indices(few)
    assert found[0].lost == found[1].lost
    assert 0 < found[0].lost < 0.1 * 1024
    assert [i.total for i in found] == pytest.approx([9.0 / 34.0, 25.0 / 34.0], abs=0.06)
    many = ran(job_of(Linear(lost=20), "saltelli", inputs, 1024), tmp_path / "many", 4096)
    assert [i.total for i in indices(many)] == [None, None]
    told = report_text(study_report(many))
    assert "not to be told, too many of the base draws" in " ".join(told.split())
    assert "820 rows have no answers" in told


def test_levels_tell_the_mean_at_each_and_keep_the_order_of_the_choices(tmp_path):
    found = by_level(ran(job_of(Linear(), "grid", (X, C)), tmp_path))
    x, c = ([level for level in found if level.input == name] for name in ("x", "c"))
    assert ([a.value for a in x], [a.spread.mean for a in x]) == ([0.0, 1.0, 2.0], pytest.approx([4.0, 7.0, 10.0]))
    assert ([a.choice for a in c], [a.spread.mean for a in c]) == (
        ["none", "one", "two"],
        pytest.approx([3.0, 7.0, 11.0]),
    )


def test_levels_apart_for_each_choice(tmp_path):
    done = ran(job_of(Linear(), "grid", (X, C)), tmp_path)
    found = by_level(done, ["c"])
    assert {a.input for a in found} == {"x"}
    assert [a.spread.mean for a in found if a.split == "two"] == pytest.approx([8.0, 11.0, 14.0])
    with pytest.raises(ValueError, match='"x" is no input with choices; those are: c'):
        by_level(done, ["x"])


def test_summary_and_problems(tmp_path):
    done = ran(job_of(Sum(most=0.75), "latin hypercube", (number("u", "uniform", 0.0, 1.0),), 1000), tmp_path)
    told = as_json(summary(done)[0])
    assert (told["rows"], told["without"]) == (750, 250)
    assert told["mean"] == pytest.approx(0.375, abs=1e-3)  # one in each slice of a thousandth
    assert (told["p5"], told["p95"]) == (pytest.approx(0.0375, abs=2e-3), pytest.approx(0.7125, abs=2e-3))
    assert list(map(as_json, problems(done))) == [{"problem": "too much", "rows": 250}]


def test_an_unfinished_study_is_not_reported(tmp_path):
    ran(job_of(Linear(), "grid", (X, C)), tmp_path, 3)
    next(iter((tmp_path / "rows").iterdir())).unlink()
    with pytest.raises(FolderError, match="lacks 3 of 9 rows; run the study again"):
        results(tmp_path)
    with pytest.raises(FolderError, match="holds no study"):
        results(tmp_path / "rows")


def test_report_writes_figures_and_tables_that_are_the_same_each_time(tmp_path):
    job = job_of(Linear(), "grid", (X, C, Y), 16)
    job = replace(job, outputs=(Output("total of all", "total", "N m", ""),))
    done = ran(job, tmp_path)
    names = set(write_report(study_report(done), into(tmp_path / "a")))
    write_report(study_report(done), into(tmp_path / "b"))
    assert {"summary.csv", "effects.csv", "shares.csv", "levels.csv", "moves.svg", "spread.png"} <= names
    assert {"along-total-of-all.svg", "along-total-of-all.png"} <= names
    assert "indices.csv" not in names
    for name in sorted(n for n in names if n.endswith(".csv")):
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes(), name
    table = pl.read_csv(tmp_path / "a" / "effects.csv")
    assert table.filter(pl.col("input") == "x")["mean"].to_list() == pytest.approx([4.5])
    drawn = (tmp_path / "a" / "moves.svg").read_text(encoding="utf-8")
    assert "change [N m]" in drawn
    assert "This is a model, not a measurement" in drawn


def test_a_report_that_is_broken_off_leaves_what_was_there(tmp_path, monkeypatch, capsys):
    """Whole or not at all: no half table or figure, no draft, no new folder; an older report stays as it is."""
    from sim.answers.study import report as files
    from sim.commands.study import report

    class BrokenOffError(Exception):
        pass

    def broken_off(*args, **kwargs):
        raise BrokenOffError

    ran(job_of(Linear(), "grid", (X, C)), tmp_path / "rows-of-it")
    report(tmp_path / "rows-of-it", output=tmp_path / "old")
    old = {p.name: p.read_bytes() for p in (tmp_path / "old").iterdir()}
    assert {"summary.csv", "spread.png", "along-total.svg"} <= old.keys()
    monkeypatch.setattr(files, "draw_levels", broken_off)
    for folder in ("old", "new"):
        with pytest.raises(BrokenOffError):
            report(tmp_path / "rows-of-it", output=tmp_path / folder)
    assert {p.name: p.read_bytes() for p in (tmp_path / "old").iterdir()} == old
    assert not (tmp_path / "new").exists()


def test_report_of_a_constant_answer_says_so(tmp_path):
    done = ran(job_of(Linear(), "grid", (number("w", "values", 1.0, 2.0), choices("d", "a", "b"))), tmp_path)
    report = study_report(done)
    write_report(report, into(tmp_path / "report"))
    assert "nothing: it is the same in all rows" in report_text(report)
    assert [s.share for s in report.shares] == [None, None]
    assert "in all rows" in (tmp_path / "report" / "spread.svg").read_text(encoding="utf-8")


def test_json_holds_every_table_and_the_caution(tmp_path):
    report = study_report(ran(job_of(Linear(), "grid", (X, C)), tmp_path))
    told = json.loads(json.dumps(as_json(report), allow_nan=False))
    assert told["caution"] == CAUTION
    assert told["made_by"]["version"] == metadata.version("hangflat")
    assert {"summary", "indices", "shares", "effects", "levels", "problems", "units"} <= set(told)


@dataclass(frozen=True)
class Odd:
    """y is 0 but where x is in its last hundredth; z is always 3 but for rounding."""

    def __call__(self, rows: Rows) -> Answers:
        x, c = rows.values.values()
        return Answers({"y": np.where(x > 0.99, 1.0 + c, 0.0), "z": 3.0 + 1e-15 * x}, [""] * len(rows))


def test_what_hardly_ever_varies_has_no_indices_and_says_why(tmp_path):
    inputs = (number("x", "uniform", 0.0, 1.0), number("c", "uniform", 0.0, 1.0))
    done = ran(job_of(Odd(), "saltelli", inputs, 256, outputs=("y", "z")), tmp_path)
    assert {i.total for i in indices(done)} == {None}
    text = report_text(study_report(done))
    assert "What moves the z: nothing, it is the same in all rows." in text
    assert re.search(r"What moves the y: not to be told, it varies in [1-9] of 256 base draws only\.", text)
