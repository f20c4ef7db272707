"""The answers on fit as one JSON object: the contract ``hangflat.fit/1``.

Lengths m and points (3,) in body axes (x to the head, y to the left, z to the back, from midway between the hip
joints, trunk standing), so that a height is an x; angles degrees, forces N, moments N m. ``_m``, ``_deg``, ``_n`` and
``_nm`` in a name tell the unit. A margin is what is left before something fails, below 0 what is missing; null where
there is none. Of two numbers in a list the first is the least and the second the greatest.

    format, title, estimated, caution
    plates      one entry a plate, in the order asked for:
      plate       its name
      on_back     place of the waist strap, heights of plate and body, margins (fit_back_json.py)
      straps      drop, lengths of the webbing and what to cut, where it crosses the shoulder, its paths
      ashore      what is carried, how the diver stands, what bears it (fit_ashore.py)
      reach       one entry a valve: hand, knob, margin, with stiff and supple shoulders, the arm's joints
      look_ahead  lift of the head, what stops it, where the eyes look, the seen attitude (fit_reach_json.py)
      set_up      how to hang it and where to put the bands so that it passes (fit_set_up.py); null without harness
      verdicts    subject, passes (null: neither), sentence, margin_m, limit with its source
      notes       plain sentences
    sweep, people, picture   only where they were asked for (fit_sweep.py, fit_people.py)

Fields may be added, never renamed or removed under this format number.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final

from sim.fit.answer import FitAnswer
from sim.fit.verdict import Verdict
from sim.report.caution import CAUTION
from sim.report.fit_ashore import ashore_json
from sim.report.fit_back_json import on_back_json, straps_json
from sim.report.fit_reach_json import look_ahead_json, reach_json
from sim.report.fit_report import PlateFit
from sim.report.fit_set_up import set_up_json

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
