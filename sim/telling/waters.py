"""What the waters are called for which answers are told side by side."""

from __future__ import annotations

from typing import Final

from sim.said import word

WATERS: Final = {
    "sea": word("sea water"), "fresh": word("fresh water"), "brackish": word("brackish water"),
    "as told": word("as told"),
}  # fmt: skip
