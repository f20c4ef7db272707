"""Words and looks for a plate that is too long for a back, whichever end is."""

from __future__ import annotations

from typing import Final

from sim.answers.fit.demands.demand import Look, Reason
from sim.said import word

TOO_LONG: Final = Reason(
    "plate length",
    word("plate too long for the back"),
    4,
    Look("#d9d9d9", "O.", word("plate too long for the back"), 7),
)
