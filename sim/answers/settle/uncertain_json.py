"""The object ``uncertain`` of ``settle --uncertain --json``: how sure the answers are."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Final

from sim.uncertainty.shares import Share
from sim.uncertainty.uncertain_settle import Band, UncertainAnswer

NAMED: Final = 3  # unknowns that a report names
LITRE: Final = 1e-3


def uncertain_json(answer: UncertainAnswer) -> dict[str, Any]:
    """Bands and unknowns as plain numbers; moments N m, plus turns head-up.

    A pitch past the vertical is null: the two shares tell how many draws go over, and which way.
    """
    ranked = [s for s in answer.unknowns if not s.together]
    together = [s for s in answer.unknowns if s.together]
    return {
        "samples": answer.samples,
        "band": "5 to 95 %",
        "pitch_moment_nm": _band(answer.moment, float),
        "pitch_stiffness_nm_per_rad": _band(answer.stiffness, float),
        "wing_gas_l": _band(answer.wing_gas, lambda v: v / LITRE),
        "turned_to_pitch_deg": _band(answer.pitch, _degrees),
        "share_over_head_up": answer.over_head_up,
        "share_over_head_down": answer.over_head_down,
        "matter_most": [_unknown(s) for s in ranked[:NAMED] if s.share > 0.0],
        "unknowns": [_unknown(s) for s in ranked],
        "body_measures_together": _unknown(together[0]) if together else None,
        "notes": list(answer.notes),
    }


def _band(band: Band, unit: Callable[[float], float | None]) -> dict[str, float | None]:
    return {"told": unit(band.told), "p5": unit(band.low), "p50": unit(band.middle), "p95": unit(band.high)}


def _degrees(pitch: float) -> float | None:
    return math.degrees(pitch) if math.isfinite(pitch) else None


def _unknown(share: Share) -> dict[str, Any]:
    """Share of the moment's variance, and by how much the band would be narrower if this were known."""
    return {
        "name": share.name,
        "spread": share.basis,
        "share_of_variance": share.share,
        "band_saved_if_known": share.band_saved,
    }
