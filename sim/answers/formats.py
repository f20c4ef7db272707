"""Every format of ``--json`` that is told as records, by its name: what ``hangflat catalogue fields`` prints."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from sim.answers.fit.report import FitReport
from sim.answers.settle.answer import SettleAnswer
from sim.answers.why.answer import WhyAnswer

FORMATS: Final[Mapping[str, type]] = {
    "hangflat.fit/1": FitReport,
    "hangflat.settle/1": SettleAnswer,
    "hangflat.why/1": WhyAnswer,
}
