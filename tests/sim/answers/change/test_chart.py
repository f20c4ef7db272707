"""The chart of what to change."""

from __future__ import annotations

import re

from sim.answers.change.chart import draw_change_chart, strongest

MOST_ROWS = 30  # of the chart


def told(count: int) -> dict[str, object]:
    changes = [
        {
            "what": f"change {i}",
            "pitch_moment_nm": -10.0 + 0.3 * i,
            "difference_nm": 0.3 * i,
            "then_fails": [],
            "no_longer_neutral": False,
        }
        for i in range(count)
    ]
    changes[-1]["then_fails"] = ["look-ahead"]
    return {"title": "an invented diver", "caution": "A caution.", "pitch_moment_nm": -10.0, "within_nm": 2.0,
            "changes": changes}  # fmt: skip


def test_only_those_that_do_most_are_drawn_in_their_order() -> None:
    kept = strongest(told(MOST_ROWS + 5)["changes"])  # type: ignore[arg-type]
    assert [c["what"] for c in kept] == [f"change {i}" for i in range(5, MOST_ROWS + 5)]


def test_every_change_is_named_and_what_fails_told(tmp_path) -> None:
    path = draw_change_chart(told(4), tmp_path / "c.svg")
    drawn = re.findall(r"<!-- (.*?) -->", path.read_text(encoding="utf-8"))
    for words in (
        "change 0",
        "change 3",
        "−9.1",
        "fails: look-ahead",
        "now −10.0",
        "nearer to balance than now",
        "balance",
        "What to change: an invented diver",
    ):
        assert words in drawn
    assert path.read_bytes() == draw_change_chart(told(4), tmp_path / "again.svg").read_bytes()


def test_one_change_alone_is_drawn(tmp_path) -> None:
    assert draw_change_chart(told(1), tmp_path / "c.png").stat().st_size > 5000
