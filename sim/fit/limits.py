"""Every threshold of the answers on fit, with its source, or the word "assumed"."""

from __future__ import annotations

from typing import Final

# ---- where the rig sits on the back -------------------------------------------------------------------------------
STRAP_HALF_WIDTH: Final = 0.025  # m, webbing 50 mm wide (common practice)
