"""Whether the plate suits the diver of a row: the demands of fit at the height at which it hangs."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from scenarios.by_key import told_otherwise
from scenarios.diver import Diver
from scenarios.models import Scenario
from sim.answers.fit.dressed_person import Dress, dress_of, dressed_person
from sim.answers.fit.hung_rig import HungRig, hung_rig
from sim.answers.fit.plate_on_person import banded
from sim.assembly.posed_diver import PosedDiver
from sim.assembly.scenario_rig import assembled_scenario


@dataclass(frozen=True)
class _ByGear:
    """A scenario, told from others by all but its diver."""

    key: str
    scenario: Scenario = field(compare=False)


@dataclass(frozen=True)
class FitAnswers:
    """How the gear of one row fits, waist strap at the natural waist.

    plate_suits : whether, height and bands set for the diver, nothing fails
    look_ahead : how much further the diver sees ahead than needed [rad]
    reach : to spare at the valve that is hardest to reach [m], NaN where there is no way there at all
    shoulder_straps : to spare until they slip off [m]
    """

    plate_suits: bool
    look_ahead: float
    reach: float
    shoulder_straps: float


def fit_answers(scenario: Scenario, worn_by: PosedDiver, model: Diver) -> FitAnswers:
    """Answers of one row. Raises ValueError without plate and harness, or for gear that cannot be.

    model : the diver on whom the gear is put together before it is hung on the row's own; the same for all rows
    """
    on_model = told_otherwise(scenario, "diver", model)
    rig, dress = _hung(_ByGear(on_model.model_dump_json(), on_model))
    found = banded(rig, dressed_person(worn_by.body.person, dress))
    reach = found.reach if np.isfinite(found.reach) else np.nan
    return FitAnswers(found.bands is not None, found.look_ahead, reach, found.shoulder_straps)


@lru_cache(maxsize=32)
def _hung(gear: _ByGear) -> tuple[HungRig, Dress]:
    worn = assembled_scenario(gear.scenario, "").worn
    if worn is None:
        raise ValueError("plate and harness are needed to say whether the plate suits")
    return hung_rig("", worn), dress_of(worn)
