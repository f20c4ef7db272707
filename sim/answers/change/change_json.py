"""What to change as one JSON object, ``hangflat.change/1``: moments N m, plus head-up, held flat."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from scenarios.settings import Setting
from sim.answers.change.report import Advice, ChangeReport, settings_with
from sim.answers.change.together import Outcome, Tried
from sim.answers.empty.report import BAR, LITRE, NEARLY_EMPTY
from sim.answers.fit.limits import TRIMMED
from sim.telling.caution import CAUTION

FORMAT: Final = "hangflat.change/1"


def change_json(report: ChangeReport) -> dict[str, Any]:
    """All of it as plain numbers, lists and texts. Settings are those that the user gave, with the change's own."""
    assembled = report.case.assembled
    wing = assembled.rig.wing
    return {
        "format": FORMAT,
        "title": assembled.title,
        "file": str(report.case.path),
        "pitch_moment_nm": report.now.moment,
        "within_nm": TRIMMED,
        "nearly_empty_bar": NEARLY_EMPTY / BAR,
        "wing": None if wing is None else "neutral" if wing.gas is None else "fixed",
        "now": {**_outcome(report.now), "nearly_empty": _empty(report.empty)},
        "advice": _advice(report.advice, report.case.told.settings),
        "with_gear": _advice(report.with_gear, report.case.told.settings),
        "changes": [_tried(t, report) for t in sorted(report.tried, key=lambda t: abs(t.then.moment))],
        "left_out": [{"what": what, "why": why} for what, why in report.left_out],
        "estimated": list(assembled.estimated),
        "notes": list(assembled.notes),
        "caution": CAUTION,
    }


def _outcome(found: Outcome) -> dict[str, Any]:
    return {
        "pitch_moment_nm": found.moment,
        "wing_gas_l": found.wing_gas / LITRE,
        "net_buoyancy_kg": found.net_buoyancy,
    }


def _empty(found: Outcome | None) -> dict[str, Any] | None:
    return None if found is None else _outcome(found)


def _advice(advice: Advice | None, asked: Sequence[Setting]) -> dict[str, Any] | None:
    if advice is None:
        return None
    return {
        "changes": [c.words for c in advice.changes],
        "settings": list(settings_with(asked, advice.changes)),
        **_outcome(advice.then),
        "nearly_empty": _empty(advice.empty),
        "reaches": abs(advice.then.moment) <= TRIMMED,
        "notes": list(advice.notes),
    }


def _tried(tried: Tried, report: ChangeReport) -> dict[str, Any]:
    return {
        "what": tried.what.words,
        "kind": tried.what.kind,
        "settings": list(settings_with(report.case.told.settings, [tried.what])),
        **_outcome(tried.then),
        "difference_nm": tried.then.moment - report.now.moment,
        "then_fails": list(tried.fails),
        "then_passes": list(tried.mends),
        "no_longer_neutral": tried.unbalanced,
        "advised": tried.what.advised,
    }
