"""What hands and eyes reach, as plain numbers for ``hangflat.fit/1``: degrees, metres in body axes, N m."""

from __future__ import annotations

from math import degrees, isfinite
from typing import Any

from sim.answers.fit.look_ahead import LookAhead, distance_ahead
from sim.answers.fit.reach import HandReach, Reach


def reach_json(reach: Reach) -> list[dict[str, Any]]:
    """One entry a valve; margins are null where the arm has no way at all."""
    return [_hand(hand) for hand in reach.hands]


def look_ahead_json(look: LookAhead) -> dict[str, Any]:
    """Lift of the head, where sight goes when held flat (plus above straight ahead), and the seen attitude."""
    return {
        "head_lift_deg": degrees(look.lift),
        "neck_deg": degrees(look.free),
        "meets_gear_at_deg": _number(degrees(look.gear)),
        "stopped_by": look.blocked_by,
        "contact_m": None if look.contact is None else look.contact.tolist(),
        "eyes_m": look.eyes.tolist(),
        "sight": look.sight.tolist(),
        "looks_deg": degrees(look.ahead),
        "notices_deg": degrees(look.edge),
        "bottom_seen_ahead_m": _number(distance_ahead(look.ahead)),
        "seen_pitch_deg": degrees(look.head_up),
        "seen_moment_nm": look.hold_moment,
        "flat_moment_nm": look.flat_moment,
        "rest_pitch_deg": None if look.rest_pitch is None else degrees(look.rest_pitch),
    }


def _hand(hand: HandReach) -> dict[str, Any]:
    p = hand.posture
    return {
        "valve": hand.valve,
        "hand": hand.hand,
        "knob_m": hand.at.tolist(),
        "margin_m": _number(hand.margin),
        "margin_stiff_m": _number(hand.stiff),
        "margin_supple_m": _number(hand.supple),
        "limited_by": hand.limited_by,
        "shoulder_m": p.shoulder.tolist(),
        "elbow_m": p.elbow.tolist(),
        "wrist_m": p.wrist.tolist(),
        "grip_m": p.grip.tolist(),
        "arm_raised_deg": degrees(p.elevation),
        "arm_outward_deg": degrees(p.plane),
        "outward_turn_deg": degrees(p.outward_turn),
        "elbow_flexion_deg": degrees(p.elbow_flexion),
        "wrist_bend_deg": degrees(p.wrist_bend),
    }


def _number(value: float) -> float | None:
    """JSON knows no infinity."""
    return value if isfinite(value) else None
