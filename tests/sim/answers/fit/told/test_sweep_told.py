"""``fit --sweep`` told: what may be asked for, JSON, CSV, sentences, the chart."""

from __future__ import annotations

import csv
import io
import itertools
import json
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.fit.drawn.sweep_chart import MOST_PLATES, PANELS, draw_fit_sweep, sweep_figure
from sim.answers.fit.sweep import (
    AlsoFails,
    FitSweep,
    LeftOut,
    PlateSweep,
    SweepPoint,
    fit_sweep,
    plate_sweep,
)
from sim.answers.fit.sweep_kinds import KINDS, asked
from sim.answers.fit.told.sweep import sweep_csv, sweep_rows
from sim.case import Case
from sim.telling.record import as_json

X = np.linspace(-0.04, 0.14, 10)


def invented(name: str, lower: float, hands_lost: bool = False) -> PlateSweep:
    """A plate whose strap stays on the waist from -3 to 3 cm and whose head is free from ``lower`` [m] down."""
    points = []
    for x in X:
        margins = {"waist strap": 0.03 - abs(x), "look-ahead": 4.0 * (x - lower), "reach": 0.08 - x}
        reach = -np.inf if hands_lost and x > 0.1 else 0.1 - x
        points.append(
            SweepPoint(-20.0 + 80.0 * x, 4.0 * (x - lower) - 0.26, 0.3, reach, "left valve", 0.03 - x, 0.06,
                       MappingProxyType(margins), ("plate width",) if name == "wide plate" else ())
        )  # fmt: skip
    return plate_sweep("drop", name, X.tolist(), points)


@pytest.fixture(scope="module")
def sweep() -> FitSweep:
    plates = (invented("short plate", 0.01), invented("long plate", 0.07, hands_lost=True))
    return FitSweep(asked("drop; steps=10"), "an invented diver", plates, (LeftOut("long plate", 0.2, "too low"),))


def test_what_is_met_and_what_rules_it_out_is_told_in_words(sweep):
    short, long = sweep.plates
    assert short.told == "waist strap, look-ahead and reach are met at a drop of 1.0 to 3.0 cm"
    assert long.told == (
        "no drop from −4.0 to 14.0 cm will do: waist strap asks for −3.0 to 3.0 cm, "
        "look-ahead asks for 7.0 cm or more"
    )
    assert [label for label, _ in sweep_rows(sweep)] == ["short plate", "long plate", "left out"]


def test_what_else_fails_there_is_told_beside_it(sweep):
    wide = replace(sweep, plates=(invented("wide plate", 0.01),))
    met = "waist strap, look-ahead and reach are met at a drop of 1.0 to 3.0 cm"
    assert wide.plates[0].told == f"{met}; plate width fails all the same"
    assert wide.plates[0].also_fails == (AlsoFails("plate width", True),)


def test_json_has_no_number_that_json_lacks_and_the_bands_of_the_sweep(sweep):
    told = as_json(sweep)
    assert json.loads(json.dumps(told, allow_nan=False)) == told
    assert [len(p["bands"]) for p in told["plates"]] == [1, 0]
    assert told["plates"][0]["bands"][0]["least_m"] == pytest.approx(0.01)
    assert told["plates"][1]["barred_by"] == ["waist strap", "look-ahead"]
    assert told["plates"][1]["points"][-1]["reach_m"] is None


def test_the_table_has_a_row_a_rig_and_the_numbers_of_the_json(sweep):
    rows = list(csv.DictReader(io.StringIO(sweep_csv(sweep))))
    told = as_json(sweep)
    assert len(rows) == 2 * len(X)
    for row, point in zip(rows, [p for plate in told["plates"] for p in plate["points"]], strict=True):
        assert float(row["trimming moment, plus turns head-up [N m]"]) == point["moment_nm"]
        assert float(row["margin of look-ahead [deg]"]) == point["margins"]["look-ahead"]
        met = all(m >= 0.0 for m in point["margins"].values())
        assert row["all met"] == ("yes" if met else "no")
    assert {r["all met"] for r in rows} == {"yes", "no"}
    assert rows[-1]["reach to spare at the hardest valve [m]"] == ""


@pytest.mark.parametrize("name", [k.name for k in KINDS])
def test_every_kind_has_rising_values_and_a_key(name):
    found = asked(name)
    assert (np.diff(found.values) > 0.0).all()
    assert found.values[0] == pytest.approx(found.kind.low)
    assert found.values[-1] == pytest.approx(found.kind.high)


def test_a_range_of_one_s_own():
    found = asked("Drop; from=-2 cm; to=4 in; steps=5")
    assert found.values == pytest.approx(np.linspace(-0.02, 0.1016, 5))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("dorp", 'Did you mean "drop"'),
        ("plate lenght", 'Did you mean "plate length"'),
        ("colour", "It changes one of"),
        ("drop; from=5 cm; to=2 cm", "from must lie below to"),
        ("drop; from=5", "has no unit"),
        ("drop; steps=1", "from 2 to 101"),
        ("drop; steps=many", "from 2 to 101"),
        ("drop; until=4 cm", "is not understood"),
    ],
)
def test_a_sweep_that_cannot_be_is_refused_with_what_is_allowed(text, said):
    with pytest.raises(ValueError, match=said):
        asked(text)


def test_bars_and_tints_of_the_chart_end_where_the_band_ends_and_lines_run_through_the_points(sweep):
    figure = sweep_figure(sweep)
    strip, *panels = figure.axes
    bars = [p for p in strip.patches if p.get_gid() == "band-0"]
    assert [(b.get_x(), b.get_width()) for b in bars] == [(pytest.approx(1.0), pytest.approx(2.0))]
    assert not [p for p in strip.patches if p.get_gid() == "band-1"]
    assert len(panels) == len(PANELS)
    for ax, panel in zip(panels, PANELS, strict=True):
        for row, plate in enumerate(sweep.plates):
            line = next(item for item in ax.lines if item.get_gid() == f"{panel.name}-{row}")
            x, y = line.get_data()
            assert x == pytest.approx(100.0 * X)
            column = panel.factor * np.array([panel.of(p) for p in plate.points])
            assert y[np.isfinite(column)] == pytest.approx(column[np.isfinite(column)])
            assert np.isnan(y[~np.isfinite(column)]).all()
        limits = [item for item in ax.lines if item.get_gid() == f"limit-{panel.name}"]
        assert len(limits) == {"moment": 0, "strap": 2}.get(panel.name, 1)


def test_all_words_of_the_chart_are_on_the_page_and_panels_apart(sweep):
    figure = sweep_figure(sweep)
    figure.draw_without_rendering()
    page = figure.bbox
    for ax in figure.axes:
        for word in (*figure.texts, *ax.texts, ax.title, ax._left_title, ax._right_title, ax.xaxis.label):
            room = word.get_window_extent()
            if word.get_text():
                assert room.x0 >= page.x0, word.get_text()
                assert room.x1 <= page.x1, word.get_text()
                assert room.y0 >= page.y0, word.get_text()
        left, right = ax._left_title.get_window_extent(), ax._right_title.get_window_extent()
        assert left.x1 < right.x0 or not ax._right_title.get_text()
    for above, below in zip(figure.axes[:-1], figure.axes[1:], strict=True):
        assert below._left_title.get_window_extent().y1 < above.bbox.y0
    lines = sorted((t.get_window_extent() for t in figure.texts), key=lambda b: b.y0)
    assert all(a.y1 < b.y1 for a, b in itertools.pairwise(lines))


def test_the_chart_is_written_the_same_twice_and_too_many_plates_are_refused(sweep, tmp_path):
    one, two = (draw_fit_sweep(sweep, tmp_path / n).read_bytes() for n in ("one.svg", "two.svg"))
    assert one == two
    many = FitSweep(sweep.asked, "many", sweep.plates * MOST_PLATES, ())
    with pytest.raises(ValueError, match="tells 6 plates apart"):
        sweep_figure(many)


def test_sizes_at_which_no_plate_can_be_made_are_left_out_and_told():
    found = fit_sweep(Case.read(demo_path("small-woman-steel")), asked("plate length; from=30 cm; to=40 cm; steps=2"))
    assert [round(left.value, 3) for left in found.left_out] == [0.3]
    assert len(found.plates[0].points) == 1


def test_where_no_rig_can_be_made_at_all_the_key_is_named():
    with pytest.raises(ScenarioError, match="plate"):
        fit_sweep(Case.read(demo_path("small-woman-steel")), asked("plate length; from=30 cm; to=31 cm; steps=2"))


def test_a_sweep_over_drop_takes_the_place_of_straps_stated_by_length():
    demo = demo_path("small-woman-steel")
    plain, strapped = (
        fit_sweep(Case.read(demo, settings), asked("drop; from=0 cm; to=2 cm; steps=2")).plates[0]
        for settings in ((), ("harness.shoulder_strap=60 cm",))
    )
    moments = [p.moment for p in plain.points]
    assert [p.moment for p in strapped.points] == pytest.approx(moments, rel=1e-12)
