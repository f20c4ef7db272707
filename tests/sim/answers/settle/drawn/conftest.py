"""Stories of divers, told without following their motion, which the tests of the drawing do not need."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sim.answers.settle.drawn.settled import scene_at
from sim.answers.settle.drawn.story import Moment, Story, story_of
from sim.answers.settle.report import SettleReport
from sim.case import Case
from sim.drawing.sheet_options import USUAL, Layer
from sim.statics.equilibria import Equilibria
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget
from tests.sim.drawing.conftest import flat_scene, mirrored_scene
from tests.sim.drawing.conftest import scene_at as turned_scene

__all__ = ["flat_scene", "mirrored_scene", "turned_scene"]

DEMOS = Path(__file__).parents[5] / "scenarios" / "demos"
LATER = (
    (("after 2 s", "32 degrees head-down, face down"), (-0.53, 0.0)),
    (("after 5 s", "73 degrees head-down, on the back"), (-1.3, np.pi)),
    (("tipped over, at rest after 36 s", "63 degrees head-down, on the back, 5 degrees off it with the left side up"),
     (-1.1, 3.05)),
)  # fmt: skip


def still(case: Case) -> SettleReport:
    """A report that knows the diver held flat only."""
    soft = soft_rig(case.rig)
    flat = flat_answer(soft)
    return SettleReport(
        case.assembled, soft, flat, moment_budget(soft, flat), (), Equilibria((), False, True), (), None, None, (), ()
    )


def told(name: str, settings: tuple[str, ...] = (), layers: frozenset[Layer] = USUAL) -> Story:
    """A demo's story with three moments as they may be, the last of them in many words."""
    report = still(Case.read(DEMOS / f"{name}.toml", settings))
    moments = []
    for words, (pitch, roll) in LATER:
        up = np.array([np.sin(pitch), np.cos(pitch) * np.sin(roll), np.cos(pitch) * np.cos(roll)])
        moments.append(Moment(words, scene_at(report, up)))
    held = "It has to be held, with knees, hips or arms well away from where they rest."
    return replace(story_of(report, held, layers), moments=tuple(moments))


@pytest.fixture(scope="session")
def steel() -> Story:
    return told("small-woman-steel")
