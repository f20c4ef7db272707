"""What the page shows of a set-up at once, as plain values ready to be sent: each a pure function of the set-up."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Callable, Collection, Mapping
from pathlib import Path
from typing import Any

import numpy as np

from scenarios.errors import ScenarioError
from sim.answers.fit.answer import fit_answer
from sim.answers.model.motion import Motion, motion_of, turned
from sim.answers.model.page import MARKS, packed_motion, page_data
from sim.answers.model.parts import LAYERS, shown_parts
from sim.answers.settle.drawn.settled import GasThere, scene_of
from sim.answers.settle.freeze import freeze_test
from sim.answers.settle.report import SettleReport
from sim.case import Case
from sim.page.facts import facts
from sim.page.handles import handles
from sim.page.plate_picture import plate_picture
from sim.page.set_up import SetUp, case_of, problems_of
from sim.settling.settle import settle
from sim.statics.equilibria import Equilibria
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget
from sim.telling.drawn_plate import drawn_plate_lines, told_drawn_plate
from sim.telling.record import as_json
from sim.telling.words import attitude_words

Answer = dict[str, Any]


def answered(what: str, document: Mapping[str, Any], place: str, known: Collection[str] = ()) -> Answer:
    """One answer by its name, or ``problems`` where the set-up cannot be read or built.

    known : digests of the shapes that whoever asks has already
    Raises KeyError for a name that is none.
    """
    answer = _ANSWERS[what]
    try:
        return answer(case_of(SetUp(document, Path(place))), frozenset(known))
    except ScenarioError as refused:
        return {"problems": problems_of(refused)}


def _held(case: Case, known: Collection[str]) -> Answer:
    """The diver held flat: moment, numbers, items, and every shape that is not known yet."""
    report = _flat_report(case)
    scene = scene_of(report)
    parts = shown_parts(scene)
    told = page_data(report, scene, parts, _still(report))
    for surface in told["surfaces"]:
        surface["digest"] = _digest(surface)
        if surface["digest"] in known:
            for key in ("positions", "faces", "colours"):
                del surface[key]
    flat = report.flat
    return told | {
        "moment": flat.pitch_moment,
        "stiffness": flat.pitch_stiffness,
        "estimated": list(case.assembled.estimated),
        "notes": list(case.assembled.notes),
        "handles": [as_json(handle) for handle in handles(case)],
        "layers": [list(layer[:3]) for layer in (*LAYERS, *MARKS)],
    }


def _flat_report(case: Case) -> SettleReport:
    """What can be said without letting go."""
    soft = soft_rig(case.rig)
    flat = flat_answer(soft)
    none = Equilibria((), indifferent=True, complete=True)
    return SettleReport(case.assembled, soft, flat, moment_budget(soft, flat), (), none, (), None, None, (), ())


def _still(report: SettleReport) -> Motion:
    """Two frames of the diver held flat, so that forces and gas can be shown."""
    suit, wing = report.flat.field.suit, report.flat.field.wing
    gas = GasThere(None if suit is None else suit.volume[0], None if wing is None else wing.volume[0], 0.0)
    up = np.array([0.0, 0.0, 1.0])
    cm, cb, moment = turned(report.assembled.rig, gas, up)
    twice: Callable[[Any], Any] = lambda row: np.stack([row, row])  # noqa: E731
    return Motion(
        np.array([0.0, 1e-3]), twice(np.eye(3)), np.zeros(2), np.full(2, moment), twice(cm), twice(cb),
        None if gas.suit is None else twice(gas.suit), None if gas.wing is None else twice(gas.wing),
    )  # fmt: skip


def _let_go(case: Case, known: Collection[str]) -> Answer:
    """The motion from flat, and the freeze test in words."""
    soft = soft_rig(case.rig)
    flat = flat_answer(soft)
    settled = settle(case.rig)
    none = Equilibria((), indifferent=True, complete=True)
    budget = moment_budget(soft, flat)
    report = SettleReport(case.assembled, soft, flat, budget, (), none, (), settled, None, (), ())
    motion = motion_of(report)
    freeze = [
        (f"after {d.time:.0f} s", attitude_words(math.degrees(d.pitch), math.degrees(d.roll)))
        for d in freeze_test(settled)
    ]
    where = attitude_words(math.degrees(settled.pitch), math.degrees(settled.roll))
    end = (f"after {settled.time:.0f} s", f"{where}, at rest" if settled.reached else where)
    return {"motion": None if motion is None else packed_motion(motion, scene_of(report)), "freeze": [*freeze, end]}


def _fits(case: Case, known: Collection[str]) -> Answer:
    """Every demand on fit with its sentence."""
    if case.worn is None:
        return {"verdicts": [], "why": "fit needs a plate on the back"}
    return {
        "verdicts": [
            {"subject": v.subject, "passes": v.passes, "sentence": v.sentence}
            for v in fit_answer(case.assembled).verdicts
        ]
    }


def _facts(case: Case, known: Collection[str]) -> Answer:
    """What each value is taken to be, and what was read off a plate's drawing."""
    drawn = told_drawn_plate(case.assembled)
    plate = None if drawn is None or case.worn is None else {
        "lines": drawn_plate_lines(drawn)[:-1],
        "picture": plate_picture(case.worn.plate, drawn),
        "flat": drawn.is_flat,
    }  # fmt: skip
    return {"facts": facts(case), "plate": plate}


def _posture(case: Case, known: Collection[str]) -> Answer:
    """What the moment asks of the diver, in the words of posture."""
    from sim.answers.posture.posture import posture_of
    from sim.answers.posture.told import posture_headline

    found = posture_of(case)
    knee = found.flat_knee
    return {
        "sentence": posture_headline(found),
        "held": found.held,
        "knees": None if knee is None else f"Knees bent by {math.degrees(knee):.0f} degrees hang flat.",
    }


def _digest(surface: Mapping[str, Any]) -> str:
    told = hashlib.sha256()
    for key in ("name", "positions", "faces", "colours"):
        told.update(surface[key].encode())
    return told.hexdigest()[:24]


_ANSWERS: dict[str, Callable[[Case, Collection[str]], Answer]] = {
    "held": _held,
    "let go": _let_go,
    "fit": _fits,
    "posture": _posture,
    "facts": _facts,
}
