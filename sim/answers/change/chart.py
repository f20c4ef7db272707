"""What each change does to the trimming moment: a bar from what it is now to what it would be."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from sim.answers.change.answer import ChangeAnswer, ToldChange
from sim.drawing.canvas import halo_of
from sim.drawing.chart_sheet import finished, sheet
from sim.drawing.palette import FAILS, GRID, INK, PAPER, PASSES, SOFT_INK
from sim.telling.language import in_unit, quantity, say, say_count, told, unit_name

MOST_ROWS: Final = 30
ROW: Final = 0.27  # inch
ENDS: Final = 1.3  # inch, of the axis, its label, and the key
OVER: Final = 3.4  # letters' heights between panel and key, where "now" and "balance" stand
WIDE: Final = 11.5  # inch, with the names


def draw_change_chart(answer: ChangeAnswer, path: str | Path) -> Path:
    """Chart of what ``hangflat change`` tells; PNG, SVG or PDF by the path's ending.

    Beyond MOST_ROWS changes those that do least are left out.
    """
    from matplotlib.patches import Patch

    shown = strongest(answer.changes)
    now, within = _drawn(answer.pitch_moment), _drawn(answer.within)
    title = say("What to change: {title}", title=answer.title) if answer.title else say("What to change")
    lead = say(
        "Each change by itself, held flat at the start: from now ({now}) to what it would then be.",
        now=quantity(answer.pitch_moment, "N m", 1, sign=True, dash=True),
    )
    if hidden := len(answer.changes) - len(shown):
        least = say_count("The one that does least is left out.", "The {n} that do least are left out.", hidden)
        lead = f"{lead} {least}"
    rows = max(len(shown), 3)
    figure, (axes,) = sheet(1, 1, (WIDE, ROW * rows + ENDS), title, lead, answer.caution)
    axes.axvspan(-within, within, color=GRID, alpha=0.35, linewidth=0.0)
    axes.axvline(0.0, color=SOFT_INK, linewidth=1.0)
    axes.axvline(now, color=INK, linewidth=1.4, linestyle=(0, (4, 2)))
    for row, change in enumerate(shown):
        _draw_row(axes, row, change, now, within)
    axes.set_yticks(range(len(shown)), [told(c.what) for c in shown], fontsize=9)
    axes.set_ylim(rows - 0.4, -0.6)
    ends = np.array([now, -within, within, *(_drawn(c.then.moment) for c in shown)])
    room = 0.16 * float(np.ptp(ends))
    axes.set_xlim(ends.min() - room, ends.max() + room)
    axes.grid(axis="y", visible=False)
    under = say("what turns the diver then [{unit}]: right of 0 head-up, left head-down", unit=unit_name("N m"))
    axes.set_xlabel(under, fontsize=9.5, color=INK)
    handles = [
        Patch(color=PASSES, label=say("in balance, or nearer to it than now")),
        Patch(color=FAILS, label=say("further from it")),
    ]
    if any(c.failing for c in shown):
        handles.append(Patch(facecolor="white", edgecolor=SOFT_INK, hatch="////", label=say("something then fails")))
    axes.legend(handles=handles, loc="lower right", bbox_to_anchor=(1.0, 1.0), borderaxespad=OVER, ncols=len(handles),
                fontsize=9, labelcolor=INK, frameon=False)  # fmt: skip
    words = say("now {moment}", moment=_signed(answer.pitch_moment))
    axes.annotate(words, (now, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 14),
                  textcoords="offset points", ha="center", va="bottom", fontsize=9, color=INK)  # fmt: skip
    axes.annotate(say("balance"), (0.0, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 2),
                  textcoords="offset points", ha="center", va="bottom", fontsize=9, color=INK)  # fmt: skip
    return finished(figure, path)


def _drawn(moment: float) -> float:
    """In what the reader measures in."""
    return float(in_unit(moment, "N m"))


def _signed(moment: float) -> str:
    return quantity(moment, "N m", 1, sign=True, bare=True, dash=True)


def strongest(changes: Sequence[ToldChange]) -> list[ToldChange]:
    """Those that do most, in the order in which they came."""
    kept = sorted(range(len(changes)), key=lambda i: -abs(changes[i].difference))[:MOST_ROWS]
    return [changes[i] for i in sorted(kept)]


def _draw_row(axes: Any, row: int, change: ToldChange, now: float, within: float) -> None:
    """Green where it is as good as balance or nearer to it than now, pink where not; hatched where something then
    fails, which is told beside."""
    then = _drawn(change.then.moment)
    colour = PASSES if abs(then) < max(abs(now), within) else FAILS
    axes.barh(row, then - now, left=now, height=0.55, color="white" if change.failing else colour, edgecolor=colour,
              hatch="////" if change.failing else None, linewidth=1.0)  # fmt: skip
    if change.failing:
        words = say("fails: {names}", names=", ".join(map(told, change.failing)))
        axes.annotate(words, (1.0, row), xycoords=("axes fraction", "data"),
                      xytext=(6, 0), textcoords="offset points", va="center", ha="left", fontsize=8,
                      color=INK)  # fmt: skip
    right = then >= now
    beside: dict[str, Any] = {
        "xytext": (4 if right else -4, 0), "textcoords": "offset points", "va": "center",
        "ha": "left" if right else "right", "fontsize": 8,
    }  # fmt: skip
    said = _signed(change.then.moment)
    axes.annotate(said, (then, row), color=PAPER, path_effects=halo_of(4.0, PAPER), **beside)
    axes.annotate(said, (then, row), color=INK, **beside)
