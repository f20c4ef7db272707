"""What is said where no demand alone is to blame."""

from __future__ import annotations

from typing import Final

from sim.answers.fit.demands.demand import Look, Reason

NEVER_TOGETHER: Final = Reason(
    "never together", "each met at some height, never all at one", 5,
    Look("#c66a9f", "\\\\\\", "each met at some height, never all", 2),
)  # fmt: skip
SEVERAL: Final = Reason("several", "several of these", 7, Look("#8a8a8a", "xxx", "several of these", 9))
