"""Every format of ``--json`` that is told as records, by its name: what ``hangflat catalogue fields`` prints."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from sim.answers.calibrate.answer import CalibrationTold
from sim.answers.change.answer import ChangeAnswer
from sim.answers.check_bench.answer import BenchTold
from sim.answers.compare.compared import Comparison
from sim.answers.evidence.answer import EvidenceTold
from sim.answers.film.answer import FilmAnswer
from sim.answers.fit.report import FitReport
from sim.answers.later.answer import LaterAnswer
from sim.answers.later.empty_answer import EmptyAnswer
from sim.answers.plate.answer import PlateAnswer
from sim.answers.posture.told import PostureAnswer
from sim.answers.seen.answer import SeenAnswer
from sim.answers.settle.answer import SettleAnswer
from sim.answers.study.answer import StudyReport
from sim.answers.weigh.answer import WeighAnswer
from sim.answers.why.answer import WhyAnswer

FORMATS: Final[Mapping[str, type]] = {
    "hangflat.settle/1": SettleAnswer,
    "hangflat.why/1": WhyAnswer,
    "hangflat.fit/1": FitReport,
    "hangflat.plate/1": PlateAnswer,
    "hangflat.change/1": ChangeAnswer,
    "hangflat.compare/1": Comparison,
    "hangflat.weigh/1": WeighAnswer,
    "hangflat.later/1": LaterAnswer,
    "hangflat.film/1": FilmAnswer,
    "hangflat.posture/1": PostureAnswer,
    "hangflat.seen/1": SeenAnswer,
    "hangflat.empty/1": EmptyAnswer,
    "hangflat.check-bench/1": BenchTold,
    "hangflat.calibrate/1": CalibrationTold,
    "hangflat.study-report/1": StudyReport,
    "hangflat.evidence/1": EvidenceTold,
}
