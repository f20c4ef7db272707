"""The answers on fit as one JSON object: the contract ``hangflat.fit/1``.

Every field is described in ``fit_contract.py``; a new one goes there too.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final

from sim.answers.fit.answer import FitAnswer
from sim.answers.fit.report import PlateFit
from sim.answers.fit.told.ashore import ashore_json
from sim.answers.fit.told.on_back_json import on_back_json, straps_json
from sim.answers.fit.told.reach_json import look_ahead_json, reach_json
from sim.answers.fit.told.set_up import set_up_json
from sim.answers.fit.verdict import Verdict
from sim.telling.caution import CAUTION
from sim.telling.drawn_plate import drawn_plate_json

FIT_FORMAT: Final = "hangflat.fit/1"


def fit_json(fits: Sequence[PlateFit]) -> dict[str, Any]:
    """All answers as plain numbers, lists and texts, ready for ``json.dumps``."""
    first = fits[0].assembled
    return {
        "format": FIT_FORMAT,
        "title": first.title,
        "plates": [_plate(fit) for fit in fits],
        "estimated": list(first.estimated),
        "caution": CAUTION,
    }


def _plate(fit: PlateFit) -> dict[str, Any]:
    return {
        "plate": fit.name,
        "drawn_plate": drawn_plate_json(fit.assembled, fit.taken),
        **_answers(fit.answer),
        "set_up": None if fit.set_up is None else set_up_json(fit.set_up),
        "verdicts": [_verdict(v) for v in fit.answer.verdicts],
        "notes": list(fit.assembled.notes),
    }


def _answers(answer: FitAnswer) -> dict[str, Any]:
    """One entry an answer; add yours here."""
    return {
        "on_back": on_back_json(answer.on_back),
        "straps": straps_json(answer.on_back.straps, answer.worn.drop),
        "ashore": ashore_json(answer.ashore),
        "reach": reach_json(answer.reach),
        "look_ahead": look_ahead_json(answer.look_ahead),
    }


def _verdict(verdict: Verdict) -> dict[str, Any]:
    return {
        "subject": verdict.subject,
        "passes": verdict.passes,
        "sentence": verdict.sentence,
        "margin_m": _finite(verdict.margin),
        "limit": verdict.limit,
    }


def _finite(length: float | None) -> float | None:
    return None if length is None or not math.isfinite(length) else length
