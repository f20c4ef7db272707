"""What is said where no demand alone is to blame."""

from __future__ import annotations

from typing import Final

from sim.answers.fit.demands.demand import Look, Reason
from sim.said import word

NEVER_TOGETHER: Final = Reason(
    "never together", word("each met at some height, never all at one"), 5,
    Look("#dd92bd", "\\\\\\", word("each met at some height, never all"), 2),
)  # fmt: skip
SEVERAL: Final = Reason("several", word("several of these"), 7, Look("#8a8a8a", "xxx", word("several of these"), 9))
