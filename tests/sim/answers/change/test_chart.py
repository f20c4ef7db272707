"""The chart of what to change."""

from __future__ import annotations

import re
from dataclasses import replace

from sim.answers.change import chart
from sim.answers.change.answer import ChangeAnswer, HeldFlat, ToldChange
from sim.answers.change.chart import draw_change_chart, strongest
from sim.answers.change.occasions import Outcome
from sim.drawing.chart_sheet import finished

MOST_ROWS = 30  # of the chart


def told(count: int) -> ChangeAnswer:
    now = Outcome(-10.0, 0.002, 0.0)
    changes = [
        ToldChange(
            what=f"change {i}",
            kind="lead",
            settings=(),
            then=replace(now, moment=-10.0 + 0.3 * i),
            nearly_empty=now,
            difference=0.3 * i,
            fails=("look-ahead",) if i == count - 1 else (),
            mends=(),
            unbalanced=False,
            advised=True,
        )
        for i in range(count)
    ]
    return ChangeAnswer(
        title="an invented diver",
        file="diver.toml",
        pitch_moment=-10.0,
        within=2.0,
        nearly_empty=1e6,
        wing="neutral",
        last_stop=4.0,
        now=HeldFlat(now, "cannot be held", now, "cannot be held", ()),
        balanced=False,
        surplus_lead=0.0,
        advice=None,
        with_gear=None,
        changes=tuple(changes),
        left_out=(),
        estimated=(),
        notes=(),
        caution="A caution.",
    )


def test_only_those_that_do_most_are_drawn_in_their_order() -> None:
    kept = strongest(told(MOST_ROWS + 5).changes)
    assert [c.what for c in kept] == [f"change {i}" for i in range(5, MOST_ROWS + 5)]


def test_every_change_is_named_and_what_fails_told(tmp_path) -> None:
    path = draw_change_chart(told(4), tmp_path / "c.svg")
    drawn = re.findall(r"<!-- (.*?) -->", path.read_text(encoding="utf-8"))
    for words in (
        "change 0",
        "change 3",
        "−9.1",
        "fails: look-ahead",
        "now −10.0",
        "in balance, or nearer to it than now",
        "balance",
        "What to change: an invented diver",
    ):
        assert words in drawn
    assert path.read_bytes() == draw_change_chart(told(4), tmp_path / "again.svg").read_bytes()


def test_one_change_alone_is_drawn(tmp_path) -> None:
    assert draw_change_chart(told(1), tmp_path / "c.png").stat().st_size > 5000


def test_the_key_covers_neither_the_panel_nor_the_words_over_it(tmp_path, monkeypatch) -> None:
    drawn = []
    monkeypatch.setattr(chart, "finished", lambda figure, path: drawn.append(figure) or finished(figure, path))
    chart.draw_change_chart(told(12), tmp_path / "c.svg")
    (axes,) = drawn[0].axes
    key = axes.get_legend().get_window_extent()
    assert not key.overlaps(axes.get_window_extent())
    assert not any(key.overlaps(words.get_window_extent()) for words in [*axes.texts, *drawn[0].texts])
    assert key.x0 >= 0.0
