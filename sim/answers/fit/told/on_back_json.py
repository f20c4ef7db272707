"""The entries ``on_back`` and ``straps`` of ``hangflat.fit/1``: lengths m, heights above the hip joints."""

from __future__ import annotations

import math
from typing import Any

from sim.answers.fit.on_back import OnBack
from sim.answers.fit.straps import Straps


def on_back_json(on: OnBack) -> dict[str, Any]:
    """Where the rig sits; margins below 0 are what is missing."""
    return {
        "waist_strap": on.place,
        "waist_strap_m": on.waist_strap,
        "natural_waist_m": on.waist,
        "iliac_crest_m": on.crest,
        "tenth_rib_m": on.tenth_rib,
        "plate_top_m": on.top,
        "plate_bottom_m": on.bottom,
        "c7_m": on.c7,
        "acromion_m": on.acromion,
        "buttocks_m": on.buttock,
        "hand_on_plate_margin_m": on.top_touched if math.isfinite(on.top_touched) else None,
        "flank_beyond_plate_m": _finite(on.flank),
        "armpit_beyond_plate_m": _finite(on.armpit),
        "cylinders_end_m": on.cylinder_end,
        "cylinders_off_buttocks_m": on.buttocks,
    }


def straps_json(straps: Straps, drop: float) -> dict[str, Any]:
    """The harness; ``drop`` [m] of the waist slots below the natural waist. Paths are the middle of the webbing."""
    paths = straps.paths
    return {
        "drop_m": drop,
        "shoulder_strap_m": straps.shoulder,
        "waist_strap_m": straps.waist,
        "crotch_strap_m": straps.crotch,
        "cut_one_piece_m": straps.one_piece,
        "cut_crotch_m": straps.crotch_cut,
        "crosses_shoulder_at_share": straps.crossing.share,
        "inner_edge_off_neck_m": straps.crossing.inner,
        "outer_edge_off_shoulder_bone_m": straps.crossing.outer,
        "outer_edge_off_shoulder_ball_m": straps.crossing.ball,
        "shoulder_slopes_deg": math.degrees(straps.slope),
        "left_shoulder_path_m": [[float(c) for c in p] for run in (paths.over, paths.under) for p in run.points],
        "waist_path_m": [[float(c) for c in p] for p in paths.waist.points],
        "crotch_path_m": [[float(c) for c in p] for p in paths.crotch.points],
    }


def _finite(length: float) -> float | None:
    return length if math.isfinite(length) else None
