"""Where a spread is turned alone: at which shares of its cases."""

from __future__ import annotations

from typing import Final

DRAWN_LEVELS: Final = (0.05, 0.5, 0.95)
