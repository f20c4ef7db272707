"""What an instructor reads of ``hangflat fit``: a ``hangflat.fit/1`` object as plain text, 100 columns wide."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sim.report.fit_ashore import ashore_rows
from sim.report.fit_sweep import sweep_rows
from sim.report.text import title_lines
from sim.report.words import bullets, rows, wrapped

Object = Mapping[str, Any]
ASHORE: Final = "Carried ashore, standing still with all of it on (of two figures, the least and the greatest)"
MARKS: Final = {True: "fits", False: "does not fit", None: "-"}


def fit_text(report: Object) -> str:
    """Text of a ``hangflat.fit/1`` object; the caution comes last."""
    lines = title_lines(report)
    for plate in report["plates"]:
        lines += rows(f"With {plate['plate']}", _verdict_rows(plate))
        lines += rows(ASHORE, ashore_rows(plate["ashore"]))
        lines += bullets("Notes", plate["notes"])
    if "sweep" in report:
        lines += rows(f"Trade-off over {report['sweep']['along']}", sweep_rows(report["sweep"]))
    if report["estimated"]:
        lines += ["", *wrapped("Estimated, not given: " + ", ".join(report["estimated"]) + ".", later="  ")]
    return "\n".join([*lines[1:], "", *wrapped("Caution: " + report["caution"], later="  ")])


def _verdict_rows(plate: Object) -> Iterator[tuple[str, str]]:
    for verdict in plate["verdicts"]:
        text = verdict["sentence"]
        yield verdict["subject"], f"{MARKS[verdict['passes']]}: {text}."
