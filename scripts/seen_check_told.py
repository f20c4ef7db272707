"""What ``seen_check.py`` found: rates, whether the probabilities are true, the table stored and its chart."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
from seen_check_bench import DEMOS

from sim.answers.seen.causes import CAUSES

STORED = Path(__file__).parents[1] / "sim" / "answers" / "evidence" / "stored"
COLUMNS = (
    "case", "demo", "cause", "doing", "attitude[deg]", "fins",
    "first", "p_first", "p_true", "best_first", "best_p_true",
    "test", "first_after", "p_first_after", "p_true_after", "best_first_after", "best_p_true_after",
    "first_after_3", "best_first_after_3",
)  # fmt: skip


def summary(rows: list[dict[str, object]]) -> dict[str, object]:
    def rate(first: str, where: list[dict[str, object]] = rows) -> float:
        return round(100.0 * float(np.mean([r[first] == r["cause"] for r in where])), 1) if where else float("nan")

    keys = ("first", "best_first", "first_after", "best_first_after", "first_after_3", "best_first_after_3")
    told: dict[str, object] = {"true cause first, %": {key: rate(key) for key in keys}}
    for name in CAUSES:
        mine = [r for r in rows if r["cause"] == name]
        told[f"{name} ({len(mine)})"] = {key: rate(key, mine) for key in keys}
    told["by demo"] = {
        demo: {key: rate(key, [r for r in rows if r["demo"] == demo]) for key in keys} for demo in DEMOS
    }
    told["tests"] = {t: sum(r["test"] == t for r in rows) for t in sorted({str(r["test"]) for r in rows})}
    for key in ("all", "all_after"):
        told[f"reliability, {key}"] = [
            f"{low:.1f}..{low + 0.1:.1f}: said {said:.2f}, true {true:.2f} of {n}"
            for low, said, true, n in reliability(rows, key)
        ]
    return told


def of_built(whole: list[dict[str, object]]) -> dict[str, object]:
    """What came of divers whose moment is that of no straight line."""
    if not whole:
        return {}
    off = np.array([float(str(r["off"])) for r in whole])
    told: dict[str, object] = {
        "divers": len(whole),
        "moment off the lines, RMS [N m]": round(float(np.sqrt((off**2).mean())), 2),
    }
    for key in ("first", "best_first"):
        told[f"true cause {key}, %"] = round(100.0 * float(np.mean([r[key] == r["cause"] for r in whole])), 1)
    for key in ("p_true", "best_p_true"):
        told[f"{key}, mean"] = round(float(np.mean([float(str(r[key])) for r in whole])), 3)
    return told


def reliability(rows: list[dict[str, object]], key: str) -> list[tuple[float, float, float, int]]:
    """Lower edge, mean probability said, share that was true, and how many, in tenths; every cause of every case."""
    pairs = [(p, r["cause"] == name) for r in rows for name, p in r[key].items()]  # type: ignore[attr-defined]
    said, true = np.array([p for p, _ in pairs]), np.array([t for _, t in pairs])
    tenth = np.minimum((10.0 * said).astype(int), 9)
    return [
        (0.1 * k, float(said[tenth == k].mean()), float(true[tenth == k].mean()), int((tenth == k).sum()))
        for k in range(10)
        if (tenth == k).any()
    ]


def write(rows: list[dict[str, object]]) -> None:
    names = [f"{when}{name}" for when in ("p ", "after ") for name in CAUSES]
    with (STORED / "seen_cases.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow([*COLUMNS, *names])
        for r in rows:
            every = [f"{r[key][name]:.4f}" for key in ("all", "all_after") for name in CAUSES]  # type: ignore[index]
            table.writerow([*(r[k] for k in COLUMNS), *every])


def draw(rows: list[dict[str, object]], path: Path) -> None:
    """Reliability: what was said against how often it was true."""
    from sim.drawing.chart_sheet import finished, sheet
    from sim.drawing.palette import HEAD_UP, INK

    figure, panels = sheet(
        2,
        2,
        (4.2, 4.2),
        "Are the probabilities of seen true?",
        f"{len(rows)} simulated divers of known cause, six probabilities each, in tenths",
        "Bars: 90 % by chance alone.",
    )
    for axes, key, title in zip(panels, ("all", "all_after"), ("one sight", "after the test proposed"), strict=True):
        axes.plot([0, 1], [0, 1], color=INK, linewidth=1.0)
        for _, said, true, n in reliability(rows, key):
            half = 1.645 * np.sqrt(max(said * (1.0 - said), 1e-4) / n)
            axes.plot([said, said], [said - half, said + half], color=INK, linewidth=2.5, alpha=0.35)
            axes.plot(said, true, "o", color=HEAD_UP, markersize=4.0 + np.sqrt(n) / 8.0)
        axes.set_xlim(-0.03, 1.03)
        axes.set_ylim(-0.03, 1.03)
        axes.set_title(title, fontsize=11)
        axes.set_xlabel("probability said")
        axes.set_ylabel("share that was true")
    finished(figure, path)
