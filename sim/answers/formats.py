"""Every format that an answer is told in, by name: the record whose fields are its contract."""

from __future__ import annotations

from sim.answers.settle.answer import FORMAT as SETTLE
from sim.answers.settle.answer import SettleAnswer
from sim.answers.why.answer import FORMAT as WHY
from sim.answers.why.answer import WhyAnswer

FORMATS: dict[str, type] = {SETTLE: SettleAnswer, WHY: WhyAnswer}
