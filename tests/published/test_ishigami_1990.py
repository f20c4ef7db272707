"""Ishigami & Homma 1990, Proc. ISUMA '90, IEEE, p. 398: a function whose Sobol' indices are known in closed form.

y = sin x1 + a sin^2 x2 + b x3^4 sin x1 with each x even from -pi to pi, a = 7, b = 0.1. It goes through the same
design, runner, files and report as a study of a diver; only the function is another.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from scenarios.study_axes import NumberAxis, Scale
from sim.answers.study.crew import processes
from sim.answers.study.folder import opened
from sim.answers.study.indices import indices
from sim.answers.study.inputs import Number
from sim.answers.study.job import Answers, Job
from sim.answers.study.outputs import Output
from sim.answers.study.plan import Plan, Rows
from sim.answers.study.record import Identity
from sim.answers.study.results import results
from sim.answers.study.run import run
from sim.telling.made_by import MadeByStudy

A, B = 7.0, 0.1
PI4 = np.pi**4
FIRST = np.array([0.5 * (1 + B * PI4 / 5) ** 2, A**2 / 8, 0.0])
VARIANCE = A**2 / 8 + B * PI4 / 5 + B**2 * PI4**2 / 18 + 0.5
SECOND = 8 * B**2 * PI4**2 / 225  # of x1 with x3
EXACT = {"first": FIRST / VARIANCE, "total": (FIRST + [SECOND, 0.0, SECOND]) / VARIANCE}
PRINTED = {"first": [0.3139, 0.4424, 0.0], "total": [0.5576, 0.4424, 0.2437]}  # usual table, from memory


@dataclass(frozen=True)
class Ishigami:
    def __call__(self, rows: Rows) -> Answers:
        x1, x2, x3 = rows.values.values()
        y = np.sin(x1) + A * np.sin(x2) ** 2 + B * x3**4 * np.sin(x1)
        return Answers({"y": y}, [""] * len(rows))


@pytest.fixture(scope="module")
def table(tmp_path_factory):
    inputs = tuple(
        Number(NumberAxis(n, (n,), "uniform", Scale(), (-np.pi, np.pi), 5, -np.inf, np.inf))
        for n in ("x1", "x2", "x3")
    )
    job = Job(
        "Ishigami",
        Plan("saltelli", inputs, 4096, 1),
        Ishigami(),
        (Output("y", "y", "", ""),),
        Identity(),
        MadeByStudy(version=""),
    )
    folder = tmp_path_factory.mktemp("ishigami")
    with opened(folder, job), processes(2) as crew:
        run(job, folder, crew, 3000)
    found = indices(results(folder))
    assert [index.input for index in found] == ["x1", "x2", "x3"]
    return {f"{order}{end}": np.array([getattr(index, f"{order}{end}") for index in found])
            for order in ("first", "total") for end in ("", "_low", "_high")}  # fmt: skip


@pytest.mark.parametrize("order", ["first", "total"])
def test_closed_form_agrees_with_what_is_printed(order):
    assert EXACT[order] == pytest.approx(PRINTED[order], abs=6e-5)  # the print's rounding


@pytest.mark.parametrize("order", ["first", "total"])
def test_indices(table, order):
    found = table[order]
    # standard error of 4096 random base draws, from the intervals; quasi-random ones do better
    error = (table[f"{order}_high"] - table[f"{order}_low"]) / (2 * 1.96)
    assert (np.abs(found - EXACT[order]) <= 2.0 * error + 1e-12).all()
    assert found == pytest.approx(EXACT[order], abs=0.01)


@pytest.mark.parametrize("order", ["first", "total"])
def test_the_truth_lies_within_the_intervals(table, order):
    assert (table[f"{order}_low"] <= EXACT[order]).all()
    assert (table[f"{order}_high"] >= EXACT[order]).all()
