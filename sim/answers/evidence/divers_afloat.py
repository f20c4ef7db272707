"""Divers afloat with a blown-up wing as divers know it: common practice, with no source. Nothing was fitted to it."""

from __future__ import annotations

import math
from functools import cache
from typing import Final

import numpy as np

from scenarios.demos import demo_names, demo_path
from sim.answers.evidence.check import Check, Compared, within
from sim.answers.settle.afloat.surface import surface_diver
from sim.assembly.afloat_attitudes import HELD, RELAXED
from sim.assembly.limp_joints import angles_of
from sim.assembly.tipped_head import following, mouth_height
from sim.case import Case
from sim.floating.limp import limp_from

THEME: Final = "The whole against practice"
DOUBT: Final = "common practice, no source: a question to the model, no proof of it; nothing was fitted to it"
HIGHEST: Final = 300.0  # mm: no head is held higher over the water lying back
STRONGEST: Final = 100.0  # N m, more than anybody would float with
SITTING_UP: Final = math.radians(50.0)  # back from the vertical, half way from the back to upright


def checks() -> tuple[Check, ...]:
    told = "what divers do every day"
    return (
        Check(THEME, "on the back, wing full: mouth over the water", told, "common practice", "mm", 0,
              lambda: _each("mouth", HIGHEST), DOUBT),
        Check(THEME, "half way up from the back: what pulls back", told, "common practice", "N m", 0,
              lambda: _each("back", STRONGEST), DOUBT),
        Check(THEME, "upright, wing full: what pushes the face forward", told, "common practice", "N m", 0,
              lambda: _each("forward", STRONGEST), DOUBT),
    )  # fmt: skip


def _each(what: str, most: float) -> list[Compared]:
    return [within(_numbers(name)[what], 0.0, most, name) for name in demo_names()]


@cache
def _numbers(name: str) -> dict[str, float]:
    """Mouth over the water [mm] lying back, moment [N m] that pulls back half way up, and forward upright."""
    diver = surface_diver(Case.read(demo_path(name), ["wing.gas=neutral"])).diver
    follow, start = following(diver), angles_of(diver.body.joints, RELAXED)
    forward, about = np.array([0.0, 1.0, 0.0]), HELD["face up"][1]
    lying = limp_from(diver.body, HELD["face up"][0], start, about=about, follow=follow)
    half = np.array([math.cos(SITTING_UP), 0.0, -math.sin(SITTING_UP)])
    sitting = limp_from(diver.body, half, start, held=True, follow=follow)
    upright = limp_from(diver.body, HELD["upright"][0], start, held=True, follow=follow)
    if lying is None or sitting is None or upright is None:
        return dict.fromkeys(("mouth", "back", "forward"), math.nan)
    return {
        "mouth": 1e3 * mouth_height(diver, lying),
        "back": -float(sitting.moment @ forward),
        "forward": float(upright.moment @ forward),
    }
